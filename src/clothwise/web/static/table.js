// The cutting table: pieces side by side. Each keeps its place while it is changed, so that the eye can follow.
const SVG = 'http://www.w3.org/2000/svg';
const BETWEEN = 6; // cm between pieces
const RIM = 4; // cm round all

export function svg(tag, attributes = {}, text = '') {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  if (text) made.textContent = text;
  return made;
}

const set = (node, name, value) => { if (node.getAttribute(name) !== value) node.setAttribute(name, value); };

// Rows of pieces for a table of a given shape: the row width that lets the pieces be largest.
function arranged(pieces, shape) {
  let best = null;
  const sizes = pieces.map(({ box: [l, t, r, b] }) => [r - l + BETWEEN, b - t + BETWEEN]);
  const widest = Math.max(...sizes.map(([w]) => w));
  const whole = sizes.reduce((sum, [w]) => sum + w, 0);
  for (let limit = widest; limit <= whole + 1; limit += Math.max(5, widest / 6)) {
    let x = 0, y = 0, row = 0, wide = 0;
    const places = sizes.map(([w, h]) => {
      if (x && x + w > limit) { x = 0; y += row; row = 0; }
      const place = [x, y];
      x += w; row = Math.max(row, h); wide = Math.max(wide, x);
      return place;
    });
    const high = y + row, size = Math.max(wide / shape, high);
    if (!best || size < best.size) best = { size, places, wide, high };
  }
  return best;
}

export class Table {
  constructor(node) { Object.assign(this, { node, groups: new Map(), anchors: new Map(), key: '' }); }

  show(pieces) {
    const key = pieces.map((piece) => piece.name).join(' ');
    if (key !== this.key) this.lay(pieces, key);
    for (const piece of pieces) this.draw(piece);
    this.fit(pieces);
  }

  lay(pieces, key) {
    this.key = key;
    const wide = this.node.clientWidth || 900;
    const shape = wide / (this.node.clientHeight || 400);
    const found = arranged(pieces, shape);
    this.node.replaceChildren();
    this.groups.clear();
    pieces.forEach((piece, n) => {
      const [l, t] = piece.box;
      const [x, y] = found.places[n];
      const group = svg('g', { class: 'piece', 'data-piece': piece.name, transform: `translate(${x - l + BETWEEN / 2} ${y - t + BETWEEN / 2})` });
      const parts = { cut: svg('path', { class: 'cut' }), seam: svg('path', { class: 'ground' }), mark: svg('path', { class: 'mark' }), dart: svg('path', { class: 'dart' }), grain: svg('path', { class: 'grain' }) };
      group.append(...Object.values(parts));
      parts.edges = new Map();
      for (const edge of piece.edges) {
        const hit = svg('path', { class: 'hit', 'data-edge': `${piece.name}/${edge.name}` });
        const line = svg('path', { class: `edge ${edge.kind}` });
        group.append(hit, line);
        parts.edges.set(edge.name, { hit, line });
      }
      parts.notch = svg('path', { class: 'notch' });
      parts.title = svg('text', {}, `${piece.number} ${piece.title}`);
      parts.how = svg('text', { class: 'how' }, piece.cut);
      group.append(parts.notch, parts.title, parts.how);
      this.node.append(group);
      this.groups.set(piece.name, parts);
      this.anchors.set(piece.name, { x: x - l + BETWEEN / 2, y: y - t + BETWEEN / 2 });
    });
    this.frame = [0, 0, found.wide, found.high];
    this.shown = '';
  }

  draw(piece) {
    const parts = this.groups.get(piece.name);
    const edges = piece.edges.filter(({ name }) => parts.edges.has(name));
    if (edges.length !== parts.edges.size || edges.length !== piece.edges.length) { this.key = ''; return; }
    set(parts.seam, 'd', piece.seam); set(parts.mark, 'd', piece.marks || 'M0 0'); set(parts.dart, 'd', piece.darts || 'M0 0');
    set(parts.grain, 'd', piece.grain); set(parts.notch, 'd', piece.notches || 'M0 0');
    for (const edge of edges) { const { hit, line } = parts.edges.get(edge.name); set(hit, 'd', edge.d); set(line, 'd', edge.d); }
    if (piece.cutline) set(parts.cut, 'd', piece.cutline);
    const [l, t, r, b] = piece.box;
    for (const [node, dy] of [[parts.title, -0.3], [parts.how, 0.9]]) { set(node, 'stroke-width', (this.letter * 0.3).toFixed(2)); set(node, 'x', ((l + r) / 2).toFixed(1)); set(node, 'y', ((t + b) / 2 + dy * this.letter).toFixed(1)); }
    const room = r - l, whole = `${piece.number} ${piece.title}`;
    const words = whole.length * this.letter * 0.38 > room ? `${piece.number}` : whole; // the number alone, where no name goes in
    if (parts.title.textContent !== words) parts.title.textContent = words;
    const longest = words.length * this.letter * 0.58;
    set(parts.how, 'visibility', b - t > 3.2 * this.letter && room > piece.cut.length * this.letter * 0.48 ? 'visible' : 'hidden');
    if (longest > room) set(parts.title, 'font-size', Math.max(this.letter * 0.62, this.letter * room / longest).toFixed(2));
    else set(parts.title, 'font-size', this.letter.toFixed(2));
    set(parts.how, 'font-size', (this.letter * 0.82).toFixed(2));
  }

  get letter() { return 13 * Math.max((this.frame[2] + 2 * RIM) / (this.node.clientWidth || 900), (this.frame[3] + 2 * RIM) / (this.node.clientHeight || 400)); }

  // The frame grows with the pieces and does not shrink while they are changed.
  fit(pieces) {
    for (const { name, box: [, , r, b] } of pieces) {
      const at = this.anchors.get(name);
      this.frame[2] = Math.max(this.frame[2], at.x + r);
      this.frame[3] = Math.max(this.frame[3], at.y + b);
    }
    const shown = `${-RIM} ${-RIM} ${this.frame[2] + 2 * RIM} ${this.frame[3] + 2 * RIM}`;
    if (shown !== this.shown) { this.shown = shown; this.node.setAttribute('viewBox', shown); }
  }

  cuts(lines) {
    for (const [name, d] of Object.entries(lines)) { const parts = this.groups.get(name); if (parts) set(parts.cut, 'd', d); }
  }

  // While a change is on its way the old cutting line would lie.
  noCuts() { for (const parts of this.groups.values()) set(parts.cut, 'd', 'M0 0'); }
}
