// Answers of an evening, put onto the page as they are found.
import { hide } from './hand_on.js';
import { cancel, listen } from './stream.js';

const found = document.querySelector('.found');
if (found) {
  const job = found.dataset.job;
  const said = found.querySelector('[data-said]');
  const stop = found.querySelector('[data-cancel]');
  const answers = found.querySelector('.in-order');
  const atOnce = found.querySelector('.at-once');
  const tidy = found.querySelector('[data-order]');
  const seen = new Set(), going = !stop.hidden;
  let whole = false;
  // Where the answers would come in below the window's edge, as on a phone, the page goes to them; what was asked stays above.
  if (!stop.hidden && found.getBoundingClientRect().top > innerHeight / 2) requestAnimationFrame(() => found.scrollIntoView());

  const made = (html) => {
    const place = document.createElement('template');
    place.innerHTML = html; // made and escaped by our own server
    const item = place.content.firstElementChild;
    if (seen.has(item.dataset.rank)) return null;
    seen.add(item.dataset.rank);
    item.querySelector('[name=job]').value = job;
    return item;
  };
  // What was told at once leaves when it is told again in its place, or when all places are known; but never under the eye
  // or the finger: while it is in view it stays, and a button puts all in their order.
  const inView = (node) => { const { top, bottom } = node.getBoundingClientRect(); return bottom > 0 && top < innerHeight; };
  const steady = (change) => (told) => {
    const held = [document.activeElement, ...found.querySelectorAll('.answer')].find((node) => found.contains(node) && inView(node));
    const before = held?.getBoundingClientRect().top;
    change(told);
    if (held?.isConnected) scrollBy({ top: held.getBoundingClientRect().top - before, behavior: 'instant' });
  };
  const placed = () => [...atOnce.querySelectorAll('.answer')].filter(({ dataset: { makes } }) => whole || [...answers.children].some((one) => one.dataset.makes === makes));
  const leave = () => {
    for (const item of placed()) item.remove();
    atOnce.hidden = !atOnce.querySelector('.answer');
    tidy.hidden = true;
  };
  const offer = () => {
    if (!placed().length) return;
    if (!inView(atOnce) && !atOnce.contains(document.activeElement)) leave();
    else if (whole || stop.hidden) {
      tidy.hidden = false;
      atOnce.querySelector('h3').textContent = 'Good ones, found at once; below, all stand in their order';
    }
  };
  tidy.addEventListener('click', () => { leave(); answers.querySelector('button')?.focus({ preventScroll: true }); });
  const answer = ({ html }) => {
    const item = made(html);
    if (!item) return;
    answers.append(item);
    offer();
  };
  const early = ({ html }) => {
    const item = going && made(html); // on a page made later all have their places
    if (!item || answers.children.length) return;
    atOnce.querySelector('.answers').append(item);
    atOnce.hidden = false;
  };
  const progress = ({ done, of }) => { found.querySelector('[data-far]').textContent = `${done} of ${of} makes looked at`; };
  const pace = ({ logged, pace: by }) => {
    const line = found.querySelector('[data-pace]');
    line.hidden = false;
    line.textContent = `Times are at the pace of ${logged} finished ${logged === 1 ? 'make' : 'makes'}: ${Math.round(by * 100)} % of the usual.`;
  };
  const doubt = ({ text }) => {
    const item = document.createElement('li');
    item.textContent = `Before you trust it: ${text}`;
    found.querySelector('.doubts').append(item);
  };
  const fellOut = ({ rows }) => {
    const box = found.querySelector('.fell-out');
    box.hidden = rows.length === 0;
    for (const row of rows) {
      const item = document.createElement('li');
      item.textContent = `${row.makes}${row.cloth ? ` from ${row.cloth}` : ''}: ${row.why}`;
      box.querySelector('ul').append(item);
    }
  };
  const end = ({ state, said: why }) => {
    hide(stop, found.querySelector('[data-again] button') ?? found.querySelector('h2'));
    whole = state === 'done';
    if (whole) found.querySelector('[data-far]').textContent = '';
    offer();
    const ways = answers.children.length;
    const all = ways ? `All was looked at: ${ways} ${ways === 1 ? 'make' : 'makes'} to choose from.` : 'Nothing can be made from these cloths as asked.';
    said.textContent = whole ? all : why;
  };
  const hears = { answer, early, progress, pace, doubt, 'fell out': fellOut, end };
  listen(job, Object.fromEntries(Object.entries(hears).map(([kind, hear]) => [kind, steady(hear)])));
  stop.addEventListener('click', (event) => { event.preventDefault(); cancel(job); });
}
