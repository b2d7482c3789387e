// The station of cloth: the lay drawn, pieces moved by hand, the rest laid anew around them.
import { hide, rest, rests } from './hand_on.js';
import { handRow } from './hand_row.js';
import { keptHere, onItsWay } from './follow.js';
import { Live } from './live.js';
import { movePieces } from './move_piece.js';
import { say } from './say.js';
import { cancel, listen } from './stream.js';
import { svg } from './table.js';
import { metres, setUnit } from './words.js';

const ticket = document.querySelector('.ticket');
const data = JSON.parse(document.getElementById('data').textContent);
setUnit(data.unit);
const url = `${ticket.dataset.ticket}/cloth`;
const live = (name) => ticket.querySelector(`[data-live="${name}"]`);
const cloth = document.getElementById('cloth'), byHand = ticket.querySelector('[data-by-hand]');

let row = null; // the buttons that move a piece
let shown = data.lay?.cutting; // what of the cutting stands on the page already
function draw(lay) {
  const upright = cloth.clientWidth < 600;
  const long = Math.max(lay.have, lay.length), letter = 14 * (upright ? lay.width / (cloth.clientWidth || 360) : Math.max(long / (cloth.clientWidth || 900), lay.width / (innerHeight * 0.74)));
  const frame = upright ? [lay.width + 4, long + 4] : [long + 4, lay.width + 4];
  cloth.setAttribute('viewBox', `-2 -2 ${frame[0]} ${frame[1]}`);
  // On a narrow screen the cloth hangs down: its length runs downwards.
  const hang = svg('g', upright ? { transform: `matrix(0 1 -1 0 ${lay.width} 0)` } : {});
  hang.append(
    svg('path', { class: 'cloth-all', d: lay.outline || `M0 0H${lay.have}V${lay.width}H0Z` }),
    ...(lay.outline ? [] : [
      svg('path', { class: 'cloth-used', d: `M0 0H${Math.min(lay.length, long)}V${lay.width}H0Z` }),
      svg('path', { class: 'selvedge-line', d: `M0 0H${long}M0 ${lay.width}H${long}` }),
      svg('path', { class: 'end', d: `M${lay.length} 0V${lay.width}` }),
    ]),
    ...lay.stripes.map((d) => svg('path', { class: 'stripe', d })),
    ...lay.left.map((d) => svg('path', { class: 'left', d })),
  );
  for (const d of lay.folds) hang.append(svg('path', { class: 'fold', d }));
  for (const d of lay.flaws) hang.append(svg('path', { class: 'flaw', d }));
  for (const copy of lay.copies) {
    const where = `${Math.round(copy.x)} along, ${Math.round(copy.y)} across`;
    const group = svg('g', { class: `copy${copy.mirrored ? ' mirrored' : ''}`, ...(data.cut ? { role: 'img' } : { tabindex: 0, role: 'button' }), 'data-piece': copy.piece, 'data-copy': copy.copy, 'data-how': copy.how, 'aria-label': `${copy.number} ${copy.title}, ${copy.how}${copy.pinned ? ', pinned' : ''}, at ${where}` });
    const size = Math.min(letter, copy.size / 2.2);
    const words = svg('text', { x: copy.x, y: copy.y, 'font-size': size.toFixed(2), ...(upright ? { transform: `rotate(-90 ${copy.x} ${copy.y})` } : {}) }, `${copy.number}${(copy.title.length + 3) * size * 0.62 < (upright ? copy.high : copy.wide) ? ` ${copy.title}` : ''}`);
    group.append(svg('path', { d: copy.path }), words);
    if (copy.pinned) group.append(svg('circle', { class: 'pin', cx: copy.x, cy: copy.y - size * 1.5, r: size * 0.42 }));
    hang.append(group);
  }
  cloth.replaceChildren(hang);
  row?.drawn();
  live('turned').hidden = !lay.copies.some((copy) => copy.mirrored);
  live('lay-says').textContent = `${lay.layering}, ${metres(lay.length)} of ${metres(lay.have)}, ${Math.round(lay.waste * 100)} % falls away, ${lay.cuts} outline${lay.cuts === 1 ? '' : 's'} to cut.`;
  if (!data.beside) live('cloth').textContent = metres(lay.length);
  if (lay.cutting !== shown) live('cutting').innerHTML = shown = lay.cutting;
  blame(lay.faults);
}

function blame(faults, group = null) {
  live('faults').replaceChildren(...[...new Set(faults)].slice(0, 4).map((text) => Object.assign(document.createElement('li'), { textContent: text })));
  group?.classList.toggle('wrong', faults.length > 0);
}

// Whether it may be cut, and if not, why and what would mend it, where the button stands.
const cutButton = ticket.querySelector('[data-cut]');
function cutting(notYet) {
  if (!cutButton) return;
  cutButton.disabled = notYet !== '';
  live('cut-says').textContent = notYet || live('cut-says').dataset.free;
}
if (cutButton && !cutButton.disabled) cutting('');

async function post(told) {
  const sent = await onItsWay(fetch(`${url}/hand`, { method: 'POST', body: JSON.stringify({ ...told, on: data.on }), headers: { 'Content-Type': 'application/json', Accept: 'application/json' } }));
  const answer = await onItsWay(sent.json());
  keptHere(answer);
  return answer;
}

function answered(told, focus) {
  if (told.refused) { say(`${told.refused.what} ${told.refused.mend}`); draw(data.lay); return; }
  data.lay = told.lay;
  draw(told.lay);
  cutting(told.not_yet);
  const undo = document.querySelector('[data-turn=undo] button');
  if (undo && told.undo) { undo.disabled = false; undo.title = told.undo; }
  if (!byHand?.contains(document.activeElement)) cloth.querySelector(`[data-piece="${CSS.escape(focus.piece)}"][data-copy="${focus.copy}"]`)?.focus({ preventScroll: true });
  say(told.lay.faults.length ? 'Kept; it cannot be cut so yet.' : 'Kept.');
}

const whose = ({ dataset }) => ({ piece: dataset.piece, copy: Number(dataset.copy) });
if (data.lay) {
  draw(data.lay);
  let asked = null;
  const looking = new Live(`${url}/hand`, (told) => { if (asked?.isConnected && told.faults) blame(told.faults, asked); }, (move) => ({ ...move, on: data.on }));
  const moves = data.cut ? null : movePieces(cloth, {
    look(group, dx, dy) { asked = group; looking.ask({ ...whose(group), dx, dy }); },
    async keep(group, dx, dy, { turn = false }) {
      asked = null;
      try { answered(await post({ ...whose(group), dx, dy, turn, keep: true }), whose(group)); } catch { say('Not kept: Clothwise does not answer.'); draw(data.lay); }
    },
    async free(group) { answered(await post({ ...whose(group), dx: 0, dy: 0, free: true }), whose(group)); },
    say,
  });
  if (moves && byHand) {
    row = handRow(byHand, cloth, moves);
    row.drawn();
  }
  addEventListener('resize', () => draw(data.lay));
} else cloth.closest('.cloth-frame').hidden = true;

// ---- laying anew ---------------------------------------------------------------------------------

const form = ticket.querySelector('[data-plan]'), layButton = form?.querySelector('button:not([data-cancel])');
function follow(job) {
  live('working').hidden = false;
  rest(layButton, true);
  live('working').querySelector('[data-cancel]').addEventListener('click', () => cancel(job));
  listen(job, {
    laid: ({ length: long, effort, cloth: name }) => say(`${effort === 'quick' ? 'A first lay' : 'A shorter lay'}: ${metres(long)} of ${name}.`, { stays: true }),
    clock: ({ left }) => { live('clock').textContent = `${left} s left`; },
    end: ({ state, said }) => {
      const here = new URL(location.href);
      here.searchParams.delete('job');
      hide(live('working'), layButton);
      if (state === 'done' || state === 'cancelled') location.replace(here);
      else { rest(layButton, false); blame([said]); }
    },
  });
}
form?.addEventListener('submit', async (event) => {
  event.preventDefault();
  if (rests(layButton)) return;
  const body = new URLSearchParams(new FormData(form));
  try {
    const told = await (await fetch(form.action, { method: 'POST', body, headers: { Accept: 'application/json' } })).json();
    if (told.refused) blame([`${told.refused.what} ${told.refused.mend}`]);
    else follow(told.job);
  } catch { say('Clothwise does not answer; nothing was changed.'); }
});
if (ticket.dataset.job && form) follow(ticket.dataset.job);

// ---- tricks of the trade -------------------------------------------------------------------------

const tricks = ticket.querySelector('[data-tricks]');
const node = (kind, told, ...inside) => { const made = Object.assign(document.createElement(kind), told); made.append(...inside); return made; };
function offered(job, { number, title, costs, saves, length, lay, drawing }) {
  const small = svg('svg', { class: 'lay-small', viewBox: `-1 -1 ${drawing.have + 2} ${drawing.width + 2}`, role: 'img', 'aria-label': `Such a lay, ${metres(length)} long` });
  small.append(svg('path', { class: 'cloth-all', d: `M0 0H${drawing.have}V${drawing.width}H0Z` }), svg('path', { class: 'cloth-used', d: `M0 0H${drawing.length}V${drawing.width}H0Z` }), svg('path', { class: 'cut-out', d: drawing.path }));
  const words = node('p', {}, node('b', { textContent: saves === null ? 'makes it possible' : `saves ${metres(saves)}` }), `: ${title}, ${metres(length)} in all. ${costs}`);
  const item = node('li', {}, small, words);
  if (lay) {
    const form = node('form', { method: 'post', action: `${url}/take` }, node('button', { textContent: 'Lay it so' }));
    for (const [name, value] of Object.entries({ job, number, on: data.on })) form.append(node('input', { type: 'hidden', name, value }));
    item.append(form);
  }
  live('tricks').append(item);
}
function look(job) {
  const button = tricks.querySelector('button');
  live('looking').hidden = false;
  rest(button, true);
  live('tricks').replaceChildren();
  listen(job, {
    offer: (told) => offered(job, told),
    end: ({ state, said }) => {
      live('looking').hidden = true;
      rest(button, false);
      if (state !== 'done') blame([said]);
      else if (!live('tricks').children.length) live('tricks').append(node('li', { textContent: 'No trick we know saves 3 cm of cloth here.' }));
    },
  });
}
tricks?.addEventListener('submit', async (event) => {
  event.preventDefault();
  if (rests(tricks.querySelector('button'))) return;
  try {
    const told = await (await fetch(tricks.action, { method: 'POST', body: new URLSearchParams(new FormData(tricks)), headers: { Accept: 'application/json' } })).json();
    if (told.refused) { blame([`${told.refused.what} ${told.refused.mend}`]); return; }
    const here = new URL(location.href);
    here.searchParams.set('tricks', told.job);
    history.replaceState(null, '', here);
    look(told.job);
  } catch { say('Clothwise does not answer; nothing was changed.'); }
});
if (tricks?.dataset.tricks) look(tricks.dataset.tricks);

// ---- how long it can be --------------------------------------------------------------------------

const longest = ticket.querySelector('[data-longest]');
const hidden = (name, value) => node('input', { type: 'hidden', name, value });
function measure(job) {
  const button = longest.querySelector('button'), into = live('longest');
  live('measuring').hidden = false;
  rest(button, true);
  into.replaceChildren();
  listen(job, {
    longest: ({ by, words, why, length: long, capped, same }) => {
      into.append(node('p', {}, node('b', { textContent: by ? `At most ${words} than it is drawn` : 'As it is drawn, and no longer' }), `: ${metres(long)} of the cloth. ${capped ? 'The draft itself goes no longer.' : why}`));
      if (!same) into.append(node('form', { method: 'post', action: `${url}/length` }, hidden('by', by), node('button', { textContent: 'Make it so long' })));
    },
    end: ({ state, said }) => {
      live('measuring').hidden = true;
      rest(button, false);
      if (state !== 'done') into.append(node('p', { className: 'warning', textContent: said }));
    },
  });
}
longest?.addEventListener('submit', async (event) => {
  event.preventDefault();
  if (rests(longest.querySelector('button'))) return;
  try {
    const told = await (await fetch(longest.action, { method: 'POST', headers: { Accept: 'application/json' } })).json();
    if (told.refused) { blame([`${told.refused.what} ${told.refused.mend}`]); return; }
    measure(told.job);
  } catch { say('Clothwise does not answer; nothing was changed.'); }
});
if (longest?.dataset.longest) measure(longest.dataset.longest);
