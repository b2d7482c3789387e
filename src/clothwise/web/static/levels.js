// Body, room and finished girth of each level, side by side: the body's half-girth as a solid bar, the room beyond it dashed.
import { length } from './words.js';
import { svg } from './table.js';

const ROW = 40, LEFT = 8, WORDS = 150, WIDE = 560;

export function showLevels(node, rows, levels) {
  const most = Math.max(...levels.map((l) => Math.max(l.finished, l.body)), 1);
  const scale = (WIDE - WORDS - LEFT) / most;
  node.setAttribute('viewBox', `0 0 ${WIDE} ${Math.max(1, levels.length) * ROW + 4}`);
  node.replaceChildren();
  rows.replaceChildren();
  levels.forEach((level, n) => {
    const y = n * ROW + 4, body = level.body * scale, finished = level.finished * scale;
    const middle = WORDS + (WIDE - WORDS - LEFT) / 2;
    node.append(svg('text', { x: 0, y: y + 14 }, level.title), svg('text', { x: 0, y: y + 30, class: 'second' }, `${length(level.body)} ${level.ease < 0 ? '−' : '+'} ${length(Math.abs(level.ease))}`));
    node.append(svg('rect', { class: 'body', x: middle - body / 2, y: y + 4, width: Math.max(body, 0), height: ROW - 14 }));
    node.append(svg('rect', { class: level.ease < 0 ? 'less' : 'ease', x: middle - finished / 2, y: y + 1, width: Math.max(finished, 0), height: ROW - 8 }));
    const said = svg('text', { class: 'finished', x: middle, y: y + 22, 'text-anchor': 'middle' }, `${length(level.finished)}${level.free ? ', hangs free' : ''}`);
    node.append(said);
    const row = document.createElement('tr');
    for (const text of [level.title, length(level.body), length(level.ease), length(level.finished)]) { const cell = document.createElement('td'); cell.textContent = text; row.append(cell); }
    rows.append(row);
  });
}
