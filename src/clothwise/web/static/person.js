// A person's card: measures kept as they are typed, estimates and doubts that follow, the tape shown on the figure.
import { Keeper, valueOf } from './keep.js';
import { say } from './say.js';

const person = document.querySelector('.person');
const field = (path) => person.querySelector(`[data-path="${CSS.escape(path)}"]`);
const noLine = (path) => person.querySelector(`[data-no="${CSS.escape(path)}"]`) ?? person.querySelector('[data-no=""]');

const keeper = new Keeper(person.dataset.keep, {
  kept(told, entries) {
    const undo = document.querySelector('[data-turn=undo] button');
    if (undo && told.undo) { undo.disabled = false; undo.title = told.undo; }
    for (const path of Object.keys(entries)) { noLine(path).textContent = ''; field(path)?.removeAttribute('aria-invalid'); }
    if ('figure' in entries) { location.reload(); return; } // another figure has other measures
    follow(told);
  },
  refused(no) {
    noLine(no.path).textContent = `${no.what} ${no.mend}`;
    field(no.path)?.setAttribute('aria-invalid', 'true');
  },
});

function follow(told) {
  for (const [name, text] of Object.entries(told.guesses)) {
    const place = person.querySelector(`[data-guess="${name}"]`);
    if (place) place.textContent = text;
  }
  const whole = person.querySelector('[data-no=""]');
  if (told.no && told.no !== whole.textContent) say('Kept. Nothing can be estimated from it so: see the head of the card.');
  if (!told.no && whole.textContent) say('Kept; the rest is estimated now.');
  whole.textContent = told.no;
  person.querySelector('[data-thin]').replaceChildren(...told.thin.map((text) => made('li', { class: 'note' }, text)));
  askAbout(told.doubts);
  const draw = (d) => { const path = document.createElementNS('http://www.w3.org/2000/svg', 'path'); path.setAttribute('class', 'skin'); path.setAttribute('d', d); return path; };
  for (const svg of person.querySelectorAll('.figures svg')) {
    svg.setAttribute('viewBox', told.drawn.view);
    svg.querySelector('[data-outlines]').replaceChildren(...told.drawn.outlines.map(draw));
  }
  for (const run of person.querySelectorAll('[data-run]')) if (told.drawn.tapes[run.dataset.run]) run.setAttribute('d', told.drawn.tapes[run.dataset.run]);
}

function made(tag, attributes, text = '') {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) node.setAttribute(name, value);
  node.textContent = text;
  return node;
}

let answered = ''; // the measure that a question was about
// What looks like a slip: a question with answers to press. Nothing is changed unless she says so.
function askAbout(doubts) {
  const asked = doubts.map(({ sentence, measures, suggestion }) => {
    const box = made('div', { class: 'note doubt' });
    const answers = made('p', { class: 'deed' });
    const meant = Object.entries(suggestion);
    if (meant.length) {
      const button = made('button', { type: 'button' }, `It was meant to be ${meant.map(([name, { says }]) => `${name.replaceAll('_', ' ')} ${says}`).join(', ')}`);
      button.addEventListener('click', () => { [answered] = measures; for (const [name, { typed }] of meant) { field(`measure.${name}`).value = typed; keeper.set(`measure.${name}`, typed); } keeper.send(); });
      answers.append(button);
    }
    const right = made('button', { type: 'button' }, 'It is right as it stands');
    right.addEventListener('click', () => { [answered] = measures; for (const name of measures) keeper.set(`confirm.${name}`, 'yes'); keeper.send(); });
    const again = made('button', { type: 'button', class: 'quiet' }, 'Measure again');
    again.addEventListener('click', () => field(`measure.${measures[0]}`)?.focus());
    answers.append(right, again);
    box.append(made('p', {}, sentence), answers);
    return box;
  });
  const place = person.querySelector('[data-doubts]'), held = place.contains(document.activeElement);
  place.replaceChildren(...asked);
  if (held) (place.querySelector('button') ?? field(`measure.${answered}`) ?? place).focus(); // on to the next question, or to what was asked about
  // The question stands at the head of the card; whoever types further down sees at the measure that there is one.
  for (const name of new Set(doubts.flatMap(({ measures }) => measures))) {
    const place = person.querySelector(`[data-guess="${CSS.escape(name)}"]`);
    if (place && !place.textContent) place.replaceChildren(made('a', { href: '#asked' }, 'Is that right? Asked above.'));
  }
}

// The measure being filled in: its tape on the figure, its words beside it.
function show(row) {
  for (const run of person.querySelectorAll('[data-run]')) run.classList.toggle('shown', run.dataset.run === row?.dataset.measure);
  for (const one of person.querySelectorAll('.measure')) one.classList.toggle('now', one === row);
  if (!row) return;
  const how = person.querySelector('.how');
  how.querySelector('.how-name').textContent = row.querySelector('label').textContent;
  how.querySelector('.how-says').textContent = row.dataset.says;
  how.querySelector('.how-alone').textContent = `Alone: ${row.dataset.alone}`;
}

person.addEventListener('focusin', ({ target }) => { const row = target.closest('.measure'); if (row) show(row); });
person.addEventListener('pointerover', ({ target }) => { const row = target.closest?.('.measure'); if (row && !person.querySelector('.measure :focus')) show(row); });
keeper.early(person);
for (const [path, text] of Object.entries(keeper.entries)) { const one = field(path); if (one) one.value = text; }
keeper.send();
askAbout(JSON.parse(document.getElementById('doubts').textContent));
person.addEventListener('input', ({ target }) => { if (target.dataset.path) keeper.set(target.dataset.path, valueOf(target)); });
person.addEventListener('change', ({ target }) => { if (target.dataset.path) keeper.send(); });
person.addEventListener('keydown', (event) => {
  if (event.key !== 'Enter' || !event.target.matches('.measure input')) return;
  const all = [...person.querySelectorAll('.measure input')];
  all[all.indexOf(event.target) + 1]?.focus(); // as one reads a tape: the next measure
});
