// The station of shape: blanks, pieces and levels follow each other.
import { Keeper, valueOf } from './keep.js';
import { showLevels } from './levels.js';
import { Live } from './live.js';
import { pullEdges } from './pull_edge.js';
import { say } from './say.js';
import { Table } from './table.js';
import { duration, length, metres, number, setUnit } from './words.js';

const ticket = document.querySelector('.ticket');
const data = JSON.parse(document.getElementById('data').textContent);
setUnit(data.unit);
const url = ticket.dataset.ticket;
const live = (name) => ticket.querySelector(`[data-live="${name}"]`);
const field = (path) => ticket.querySelector(`[data-path="${CSS.escape(path)}"]`);
const tape = (path) => ticket.querySelector(`[data-tape="${CSS.escape(path)}"]`);
// Where a tape stands, as it is read out: in the unit that is shown.
const stands = (slider) => { if (!('plain' in slider.dataset)) slider.setAttribute('aria-valuetext', length(Number(slider.value))); };
for (const slider of ticket.querySelectorAll('[data-tape]')) stands(slider);
const table = new Table(document.getElementById('table'));
let looked = data.look, refusal = '';

// ---- painting ------------------------------------------------------------------------------------

function spend({ minutes, cloth }) {
  if (cloth) live('cloth').textContent = `${cloth.exact ? '' : 'about '}${metres(cloth.length)}`;
  if (minutes) {
    live('time').textContent = duration(minutes.likely);
    live('span').textContent = `${duration(minutes.low)} to ${duration(minutes.high)}`;
  }
}

function warn(more = []) {
  const said = [...(refusal ? [[refusal, 'stop']] : []), ...(looked?.doubts ?? []).map((d) => [d.text, '']), ...(looked?.notes ?? []).map((n) => [n, '']), ...more];
  live('warnings').replaceChildren(...said.map(([text, kind]) => Object.assign(document.createElement('li'), { textContent: text, className: kind })));
}

function paint(look) {
  looked = look;
  table.show(look.pieces);
  table.noCuts();
  table.node.classList.remove('stale');
  for (const figure of ticket.querySelectorAll('.level-figure')) showLevels(figure.querySelector('svg'), figure.querySelector('tbody'), look.levels);
  spend(look);
  const wide = look.levels.length;
  live('fit').textContent = wide ? `${wide} level${wide === 1 ? '' : 's'} as wanted` : 'no level to keep';
  const guessed = look.estimated.length;
  live('open').textContent = guessed ? `${guessed} measure${guessed === 1 ? '' : 's'} estimated` : '';
  warn();
  mark();
}

function finish(told) {
  const more = [];
  if (told.refused) more.push([`${told.refused.what} ${told.refused.mend}`, 'stop']);
  for (const fault of told.faults ?? []) more.push([`The check stops this draft: ${fault}`, 'stop']);
  if (told.no_lay) more.push([told.no_lay, 'stop']);
  if (told.cuts) table.cuts(told.cuts);
  spend(told);
  if (told.cloth && told.cloth.length > told.cloth.have) more.push([`It needs ${metres(told.cloth.length)} of a cloth that has ${metres(told.cloth.have)}.`, 'stop']);
  warn(more);
}

function refuse({ what, mend, path }) {
  refusal = `${what} ${mend}`;
  table.node.classList.add('stale');
  if (path) {
    const line = document.getElementById(`no-${path.toLowerCase().replace(/[^a-z0-9]+/g, '-')}`);
    if (line) line.textContent = refusal;
    field(path)?.setAttribute('aria-invalid', 'true');
  }
  warn();
}

function forgive() {
  refusal = '';
  for (const line of ticket.querySelectorAll('.says-no')) line.textContent = '';
  for (const wrong of ticket.querySelectorAll('[aria-invalid]')) wrong.removeAttribute('aria-invalid');
}

function told(says) {
  for (const [path, text] of Object.entries(says)) {
    const blank = ticket.querySelector(`[data-says="${CSS.escape(path)}"]`);
    if (blank && (text || path.startsWith('left.'))) blank.textContent = text;
    else if (blank) blank.textContent = path.startsWith('measure') ? 'estimated' : blank.dataset.empty ?? 'as the draft finds it';
    const own = blank?.closest('.blank');
    const typed = own?.querySelectorAll('input[type=text][data-path]') ?? [];
    own?.classList.toggle('filled', typed.length > 1 ? [...typed].some((one) => one.value) : Boolean(text));
  }
}

// ---- asking --------------------------------------------------------------------------------------

let later = 0, learning = 0;
const QUIET = 180; // ms of rest before the heavier look
const second = new Live(`${url}/exact`, finish);
const first = new Live(`${url}/look`, (answer) => {
  if (answer.refused) { refuse(answer.refused); return; }
  forgive();
  paint(answer.look);
  told(answer.says);
  document.dispatchEvent(new CustomEvent('painted'));
  clearTimeout(later);
  later = setTimeout(() => second.ask(keeper.entries), QUIET);
});

const keeper = new Keeper(ticket.dataset.keep, {
  kept(answer, entries) {
    told(answer.says);
    const undo = document.querySelector('[data-turn=undo] button');
    if (undo && answer.undo) { undo.disabled = false; undo.title = answer.undo; }
    const redo = document.querySelector('[data-turn=redo] button');
    if (redo) redo.disabled = true;
    if (Object.keys(entries).some((path) => field(path)?.hasAttribute('data-reload'))) location.reload();
    moved();
    learnSoon();
  },
  refused(no) { refuse(no); if (!pulls) learnSoon(); },
});

function change(path, text, { now = false } = {}) {
  keeper.set(path, text);
  clearTimeout(later);
  clearTimeout(learning);
  first.ask(keeper.entries);
  if (now) keeper.send();
}

ticket.addEventListener('input', ({ target }) => {
  if (target.dataset.tape) {
    const path = target.dataset.tape, typed = field(path);
    typed.value = 'plain' in target.dataset ? target.value : number(Number(target.value));
    stands(target);
    change(path, typed.value);
  } else if (target.dataset.path) {
    change(target.dataset.path, valueOf(target));
    follow(target.dataset.path);
  }
});
// A tape moved by arrow keys changes at every press; it is kept when the keys rest, as one deed.
let byKey = false;
ticket.addEventListener('keydown', () => { byKey = true; }, true);
ticket.addEventListener('pointerdown', () => { byKey = false; }, true);
ticket.addEventListener('change', ({ target }) => { if (target.dataset.path || (target.dataset.tape && !byKey)) keeper.send(); });
ticket.addEventListener('keydown', (event) => { if (event.key === 'Enter' && event.target.dataset.path) { event.preventDefault(); keeper.send(); } });

// The tape follows what is typed where a plain number can be read; the server reads the rest.
function follow(path) {
  const slider = tape(path), plain = Number(field(path).value.replace(',', '.'));
  if (slider && field(path).value.trim() && Number.isFinite(plain)) { slider.value = data.unit === 'in' ? plain * 2.54 : plain; stands(slider); }
}

// ---- pulling -------------------------------------------------------------------------------------

let pulls = null;
const REST = 900; // ms of rest before the edges are learned anew: drawing with each choice moved is heavy
function learnSoon() {
  clearTimeout(learning);
  learning = setTimeout(learn, REST);
}
async function learn() {
  const sent = await fetch(`${url}/pulls`, { method: 'POST', body: JSON.stringify({ set: keeper.entries }), headers: { 'Content-Type': 'application/json', Accept: 'application/json' } }).catch(() => null);
  pulls = sent?.ok ? (await sent.json()).pulls : {};
  mark();
}
// Until they are learned anew, edges are pulled on from what was kept just now.
function moved() {
  for (const way of Object.values(pulls ?? {}).flat()) {
    const slider = tape(`choice.${way.choice}`);
    if (slider) way.now = Number(slider.value);
  }
}
function mark() {
  if (!pulls) return;
  for (const hit of table.node.querySelectorAll('.hit')) hit.classList.toggle('pulls', hit.dataset.edge in pulls);
}
pullEdges(table.node, {
  pulls: () => pulls ?? {},
  say: (words) => { live('pulling').textContent = words; },
  move(choice, cm) {
    const path = `choice.${choice}`;
    if (field(path)) field(path).value = number(cm);
    if (tape(path)) { tape(path).value = cm; stands(tape(path)); }
    change(path, number(cm));
  },
  end: () => keeper.send(),
});

// The table small beside the blanks, or large by itself; the address says which.
const bench = ticket.querySelector('.bench'), larger = bench.querySelector('[data-larger]');
function size(large) {
  bench.classList.toggle('large', large);
  larger.textContent = large ? 'Smaller' : 'Larger';
  table.key = '';
  if (looked) paint(looked);
}
larger.addEventListener('click', () => {
  const large = !bench.classList.contains('large'), here = new URL(location.href);
  if (large) here.searchParams.set('pieces', 'large'); else here.searchParams.delete('pieces');
  history.replaceState(null, '', here);
  size(large);
  second.ask(keeper.entries);
});
addEventListener('resize', () => { table.key = ''; if (looked) { paint(looked); second.ask(keeper.entries); } });

// ---- beginning -----------------------------------------------------------------------------------

if (looked) size(new URLSearchParams(location.search).get('pieces') === 'large');
keeper.early(ticket);
const back = keeper.entries;
if (Object.keys(back).length) {
  for (const [path, text] of Object.entries(back)) {
    const into = field(path);
    if (into?.type === 'radio') { const one = ticket.querySelector(`[data-path="${CSS.escape(path)}"][value="${CSS.escape(text)}"]`); if (one) one.checked = true; } else if (into) into.value = text;
  }
  say('What you had typed is back.');
  first.ask(back);
  keeper.send();
} else if (looked) second.ask({});
const idle = globalThis.requestIdleCallback ?? ((f) => setTimeout(f, 300));
idle(() => learn());
