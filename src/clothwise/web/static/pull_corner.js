// The gesture of pulling a corner of a remnant or of a flaw: by finger, mouse, or the arrow keys.
import { holdFast } from './hold_fast.js';

const SVG = 'http://www.w3.org/2000/svg';
const STEP = 5, FINE = 0.5; // cm by an arrow key; with Shift
const NEW_FLAW = 6, LEAST_DOTS = 40; // cm and dots: a new flaw is at least this wide, so that it can be taken hold of
const MOVES = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const GRIP = 12; // dots from a corner's middle to its rim: wide enough for a finger
const REST = 700; // ms after the last arrow key before it is kept

const written = (corners) => corners.map(([x, y]) => `${+x.toFixed(1)}x${+y.toFixed(1)}`).join(' ');
const named = (run, n, [x, y]) => `${run ? `flaw ${run}, ` : ''}corner ${n + 1}: ${x.toFixed(1)} along, ${y.toFixed(1)} across`;
const path = (corners) => `M${corners.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}Z`;

export class Shaping {
  // keep(path, text): 'outline' or 'flaws' as they are typed
  constructor(node, keep) {
    Object.assign(this, { node, keep, held: null, timer: 0 });
    this.svg = node.querySelector('svg');
    this.show(JSON.parse(node.dataset.shape));
    holdFast(this.svg, '.corner');
    this.svg.addEventListener('pointerdown', (event) => this.take(event));
    this.svg.addEventListener('pointermove', (event) => this.pull(event));
    for (const end of ['pointerup', 'pointercancel']) this.svg.addEventListener(end, () => this.let());
    this.svg.addEventListener('keydown', (event) => this.key(event));
    node.querySelector('[data-add-corner]').addEventListener('click', () => this.addCorner());
    node.querySelector('[data-add-flaw]').addEventListener('click', () => this.addFlaw());
    node.querySelector('[data-straight]').addEventListener('click', () => this.keep('outline', ''));
  }

  show(shape) {
    this.shape = structuredClone(shape);
    this.kept = shape;
    this.draw();
  }

  // How many dots of the screen a centimetre is.
  dots() {
    const { width, height } = this.svg.getBoundingClientRect();
    return Math.min(width / (this.shape.length + 6), height / (this.shape.width + 6));
  }

  back() { this.show(this.kept); }

  // All runs of corners: 0 is the cloth itself, the others are flaws.
  runs() { return [this.shape.corners, ...this.shape.flaw_corners]; }

  draw() {
    const { length, width } = this.shape;
    const focus = document.activeElement?.dataset?.corner;
    this.svg.setAttribute('viewBox', `-3 -3 ${(length + 6).toFixed(1)} ${(width + 6).toFixed(1)}`);
    this.svg.removeAttribute('role');
    this.svg.querySelector('.stuff').setAttribute('d', path(this.shape.corners));
    for (const old of this.svg.querySelectorAll('.flaw, .corner')) old.remove();
    this.shape.flaw_corners.forEach((corners) => {
      const flaw = document.createElementNS(SVG, 'path');
      flaw.setAttribute('class', 'flaw');
      flaw.setAttribute('d', path(corners));
      this.svg.append(flaw);
    });
    const grip = GRIP / this.dots();
    this.runs().forEach((corners, run) => corners.forEach(([x, y], n) => {
      const dot = document.createElementNS(SVG, 'circle');
      const [x1, y1] = corners[(n + 1) % corners.length];
      const size = run ? Math.min(grip, 0.45 * Math.hypot(x1 - x, y1 - y)) : grip;
      for (const [name, value] of Object.entries({ class: run ? 'corner of-flaw' : 'corner', cx: x, cy: y, r: size, tabindex: 0, role: 'button', 'data-corner': `${run}.${n}`, 'aria-label': named(run, n, [x, y]) })) dot.setAttribute(name, value);
      this.svg.append(dot);
    }));
    if (focus) this.reach(focus);
  }

  // The corner that was held, or the one before it where it is gone, or the button that makes one.
  reach(which) {
    const [run, n] = which.split('.').map(Number), corners = this.runs()[run];
    const dot = corners && this.svg.querySelector(`[data-corner="${run}.${Math.min(n, corners.length - 1)}"]`);
    (dot ?? this.node.querySelector('[data-add-flaw]')).focus({ preventScroll: true });
  }

  at(event) { return new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse()); }

  take(event) {
    const dot = event.target.closest('.corner');
    if (!dot || event.button) return;
    event.preventDefault();
    dot.focus({ preventScroll: true });
    this.svg.setPointerCapture(event.pointerId);
    this.held = dot.dataset.corner;
  }

  pull(event) {
    if (!this.held) return;
    const { x, y } = this.at(event);
    this.move(this.held, x, y);
  }

  let() {
    if (!this.held) return;
    this.settle(this.held);
    this.held = null;
  }

  // A corner stays on the cloth; its run is drawn anew at once, the frame only when it is kept.
  move(which, x, y) {
    const [run, n] = which.split('.').map(Number);
    const most = [Math.max(this.kept.length, 1), Math.max(this.kept.width, 1)];
    const corner = this.runs()[run][n];
    [x, y].forEach((value, axis) => { corner[axis] = Math.round(Math.min(Math.max(value, 0), most[axis]) * 2) / 2; });
    const dot = this.svg.querySelector(`[data-corner="${which}"]`);
    dot.setAttribute('cx', corner[0]);
    dot.setAttribute('cy', corner[1]);
    dot.setAttribute('aria-label', named(run, n, corner));
    const drawn = run ? this.svg.querySelectorAll('.flaw')[run - 1] : this.svg.querySelector('.stuff');
    drawn.setAttribute('d', path(this.runs()[run]));
  }

  settle(which) {
    if (which.startsWith('0.')) this.keep('outline', written(this.shape.corners));
    else this.keepFlaws();
  }

  keepFlaws() { this.keep('flaws', this.shape.flaw_corners.map(written).join(';')); }

  key(event) {
    const dot = event.target.closest('.corner');
    if (!dot) return;
    const which = dot.dataset.corner, [run, n] = which.split('.').map(Number);
    if (event.key === 'Delete' || event.key === 'Backspace') {
      event.preventDefault();
      const corners = this.runs()[run];
      if (corners.length > 3) corners.splice(n, 1);
      else if (run) this.shape.flaw_corners.splice(run - 1, 1);
      else return;
      this.draw();
      if (run) this.keepFlaws(); else this.keep('outline', written(this.shape.corners));
      return;
    }
    const way = MOVES[event.key];
    if (!way) return;
    event.preventDefault();
    const by = event.shiftKey ? FINE : STEP, [x, y] = this.runs()[run][n];
    this.move(which, x + way[0] * by, y + way[1] * by);
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.settle(which), REST);
  }

  // In the middle of the longest edge.
  addCorner() {
    const corners = this.shape.corners;
    let best = 0, longest = 0;
    corners.forEach(([x, y], n) => {
      const [x1, y1] = corners[(n + 1) % corners.length], long = Math.hypot(x1 - x, y1 - y);
      if (long > longest) [best, longest] = [n, long];
    });
    const [x, y] = corners[best], [x1, y1] = corners[(best + 1) % corners.length];
    corners.splice(best + 1, 0, [(x + x1) / 2, (y + y1) / 2]);
    this.draw();
    this.svg.querySelector(`[data-corner="0.${best + 1}"]`).focus();
  }

  addFlaw() {
    const x = this.shape.length / 2, y = this.shape.width / 2, half = Math.max(NEW_FLAW, LEAST_DOTS / this.dots()) / 2;
    this.shape.flaw_corners.push([[x - half, y - half], [x + half, y - half], [x + half, y + half], [x - half, y + half]]);
    this.draw();
    this.reach(`${this.shape.flaw_corners.length}.0`);
    this.keepFlaws();
  }
}
