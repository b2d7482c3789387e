// Body, ease and finished girth of each level, side by side as a tape laid out: the body solid, the ease beyond it dashed.
import { length } from './words.js';
import { svg } from './table.js';

const ROW = 46, WIDE = 304;

export function showLevels(node, rows, levels) {
  const most = Math.max(...levels.map((l) => Math.max(l.finished, l.body)), 1);
  const scale = WIDE / most;
  node.setAttribute('viewBox', `0 0 ${WIDE} ${Math.max(1, levels.length) * ROW + 4}`);
  node.replaceChildren();
  rows.replaceChildren();
  levels.forEach((level, n) => {
    const y = n * ROW + 2, body = level.body * scale, finished = level.finished * scale;
    const parts = `${length(level.body)} ${level.ease < 0 ? '−' : '+'} ${length(Math.abs(level.ease))}`;
    node.append(svg('text', { x: 0, y: y + 14 }, level.title), svg('text', { x: 0, y: y + 40, class: 'second' }, parts));
    node.append(svg('text', { class: 'finished', x: WIDE, y: y + 14, 'text-anchor': 'end' }, length(level.finished)));
    if (level.free) node.append(svg('text', { class: 'second', x: WIDE, y: y + 40, 'text-anchor': 'end' }, 'hangs free'));
    node.append(svg('rect', { class: 'body', x: 0, y: y + 19, width: Math.max(body, 0), height: 7 }));
    node.append(svg('rect', level.ease < 0 ? { class: 'less', x: finished, y: y + 19, width: Math.max(body - finished, 0), height: 7 } : { class: 'ease', x: body, y: y + 19, width: Math.max(finished - body, 0), height: 7 }));
    const row = document.createElement('tr');
    for (const text of [level.title, length(level.body), length(level.ease), length(level.finished)]) { const cell = document.createElement('td'); cell.textContent = text; row.append(cell); }
    rows.append(row);
  });
}
