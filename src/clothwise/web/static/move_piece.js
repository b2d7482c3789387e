// The gesture of moving a piece on the cloth, by finger, mouse or arrow keys. The check answers while it moves; it is kept
// when it is let go. A piece on the fold slides along it; its twin in the fold goes with it (the server sees to both).
import { holdFast } from './hold_fast.js';

const STEP = 1, LEAP = 5; // cm by an arrow key, with Shift
const REST = 500; // ms after the last arrow key before it is kept

export function movePieces(cloth, hears) {
  // hears: look(group, dx, dy) while it moves; keep(group, dx, dy, {turn}); free(group); say(words). Returns what can be done
  // without dragging, for keys and buttons alike: nudge(group, right, down), turn(group), free(group).
  let held = null;
  const at = (event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(cloth.firstElementChild.getScreenCTM().inverse());
  const shift = (group, dx, dy) => group.setAttribute('transform', `translate(${dx} ${dy})`);
  const bound = (group, dx, dy) => [Math.round(dx * 10) / 10, group.dataset.how === 'on the fold' ? 0 : Math.round(dy * 10) / 10];

  holdFast(cloth, '.copy');
  cloth.addEventListener('pointerdown', (event) => {
    const group = event.target.closest('.copy');
    if (!group || event.button) return;
    event.preventDefault();
    group.focus({ preventScroll: true });
    cloth.setPointerCapture(event.pointerId);
    held = { group, from: at(event), dx: 0, dy: 0 };
    group.classList.add('held');
    group.parentNode.append(group);
  });
  cloth.addEventListener('pointermove', (event) => {
    if (!held) return;
    const to = at(event);
    [held.dx, held.dy] = bound(held.group, to.x - held.from.x, to.y - held.from.y);
    shift(held.group, held.dx, held.dy);
    hears.look(held.group, held.dx, held.dy);
  });
  const end = (keep) => () => {
    if (!held) return;
    const { group, dx, dy } = held;
    held = null;
    group.classList.remove('held');
    if (keep && (dx || dy)) hears.keep(group, dx, dy, {});
    else shift(group, 0, 0);
  };
  cloth.addEventListener('pointerup', end(true));
  cloth.addEventListener('pointercancel', end(false));

  // By so far across the screen and down it; the cloth may hang (see draw in cloth.js).
  let resting = 0, moved = { group: null, dx: 0, dy: 0 };
  function nudge(group, right, down) {
    if (moved.group !== group) moved = { group, dx: 0, dy: 0 };
    const [dx, dy] = cloth.firstElementChild.hasAttribute('transform') ? [down, -right] : [right, down];
    const was = [moved.dx, moved.dy];
    [moved.dx, moved.dy] = bound(group, moved.dx + dx, moved.dy + dy);
    if (moved.dx === was[0] && moved.dy === was[1]) { hears.say('It lies on the fold, and only slides along it.'); return; }
    shift(group, moved.dx, moved.dy);
    hears.look(group, moved.dx, moved.dy);
    clearTimeout(resting);
    resting = setTimeout(() => { const { dx: x, dy: y } = moved; moved = { group: null, dx: 0, dy: 0 }; if (x || y) hears.keep(group, x, y, {}); }, REST);
  }
  const turn = (group) => hears.keep(group, 0, 0, { turn: true });
  const free = (group) => hears.free(group);

  const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  cloth.addEventListener('keydown', (event) => {
    const group = event.target.closest?.('.copy');
    if (!group || event.ctrlKey || event.metaKey || event.altKey) return;
    const by = event.shiftKey ? LEAP : STEP, to = ways[event.key];
    if (to) {
      event.preventDefault();
      nudge(group, to[0] * by, to[1] * by);
    } else if (event.key.toLowerCase() === 'r') turn(group);
    else if (event.key === 'Delete' || event.key === 'Backspace') free(group);
  });
  return { nudge, turn, free };
}
