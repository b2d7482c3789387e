// The gesture of moving a piece on the cloth, by finger, mouse or arrow keys. The check answers while it moves; it is kept
// when it is let go. A piece on the fold slides along it; its twin in the fold goes with it (the server sees to both).
import { holdFast } from './hold_fast.js';

const STEP = 1, LEAP = 5; // cm by an arrow key, with Shift
const REST = 500; // ms after the last arrow key before it is kept

export function movePieces(cloth, hears) {
  // hears: look(piece, copy, dx, dy) while it moves; keep(piece, copy, dx, dy, {turn}); free(piece, copy)
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

  let resting = 0, way = { dx: 0, dy: 0 };
  cloth.addEventListener('keydown', (event) => {
    const group = event.target.closest?.('.copy');
    if (!group || event.ctrlKey || event.metaKey || event.altKey) return;
    const by = event.shiftKey ? LEAP : STEP;
    const ways = { ArrowLeft: [-by, 0], ArrowRight: [by, 0], ArrowUp: [0, -by], ArrowDown: [0, by] };
    if (event.key in ways) {
      event.preventDefault();
      const [dx, dy] = ways[event.key];
      [way.dx, way.dy] = bound(group, way.dx + dx, way.dy + dy);
      shift(group, way.dx, way.dy);
      hears.look(group, way.dx, way.dy);
      clearTimeout(resting);
      resting = setTimeout(() => { const { dx: x, dy: y } = way; way = { dx: 0, dy: 0 }; if (x || y) hears.keep(group, x, y, {}); }, REST);
    } else if (event.key.toLowerCase() === 'r') hears.keep(group, 0, 0, { turn: true });
    else if (event.key === 'Delete' || event.key === 'Backspace') hears.free(group);
  });
}
