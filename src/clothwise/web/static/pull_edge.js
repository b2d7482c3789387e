// The gesture of pulling an edge on the drawing. Which choice an edge moves, and how far, comes from the draft itself
// (see live.pulls); the hand's way is laid along it. One pull is one change: it is kept when the edge is let go.
import { holdFast } from './hold_fast.js';
import { length } from './words.js';

const CLEAR = 0.6; // cosine between the hand's way and the edge's: less is no pull of that choice
const FIRST = 0.4; // cm the hand moves before it is known which choice is meant

export function pullEdges(table, hears) {
  // hears: begin() -> pulls by edge; move(choice, cm); end(choice, cm); say(words)
  let held = null;
  const at = (event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(table.getScreenCTM().inverse());

  holdFast(table, '.hit.pulls');
  table.addEventListener('pointerdown', (event) => {
    const edge = event.target.closest('.hit.pulls');
    if (!edge || event.button) return;
    event.preventDefault();
    table.setPointerCapture(event.pointerId);
    hears.say('');
    held = { edge, from: at(event), ways: hears.pulls()[edge.dataset.edge] || [], way: null, cm: null };
    edge.nextElementSibling.classList.add('held');
  });
  table.addEventListener('pointermove', (event) => {
    if (!held) return;
    const to = at(event), dx = to.x - held.from.x, dy = to.y - held.from.y, far = Math.hypot(dx, dy);
    if (!held.way) {
      if (far < FIRST) return;
      const along = (w) => (w.dx * dx + w.dy * dy) / (Math.hypot(w.dx, w.dy) * far);
      const best = [...held.ways].sort((a, b) => Math.abs(along(b)) - Math.abs(along(a)))[0];
      if (!best || Math.abs(along(best)) < CLEAR) { hears.say('This edge does not go that way.'); return; }
      held.way = best;
    }
    const { dx: wx, dy: wy, now, low, high, choice } = held.way;
    const by = (dx * wx + dy * wy) / (wx * wx + wy * wy);
    const wanted = Math.round((now + by) * 2) / 2;
    const cm = Math.min(high, Math.max(low, wanted));
    if (cm !== held.cm) { held.cm = cm; hears.move(choice, cm); }
    hears.say(`${choice.replaceAll('_', ' ')} ${length(cm)}${cm !== wanted ? ', and no further' : ''}`);
  });
  const let_go = () => {
    if (!held) return;
    held.edge.nextElementSibling.classList.remove('held');
    const { way, cm } = held;
    held = null;
    if (!way) return; // why not stays to be read
    hears.say('');
    if (cm !== null) hears.end(way.choice, cm);
  };
  table.addEventListener('pointerup', let_go);
  table.addEventListener('pointercancel', let_go);
}
