// Answers of an evening, put onto the page as they are found.
import { cancel, listen } from './stream.js';

const found = document.querySelector('.found');
if (found) {
  const job = found.dataset.job;
  const said = found.querySelector('[data-said]');
  const stop = found.querySelector('[data-cancel]');
  const answers = found.querySelector('.answers');
  const seen = new Set();

  const answer = ({ html }) => {
    const place = document.createElement('template');
    place.innerHTML = html; // made and escaped by our own server
    const item = place.content.firstElementChild;
    if (seen.has(item.dataset.rank)) return;
    seen.add(item.dataset.rank);
    item.querySelector('[name=job]').value = job;
    answers.append(item);
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
    stop.hidden = true;
    const ways = answers.children.length;
    const whole = ways ? `All was looked at: ${ways} ${ways === 1 ? 'make' : 'makes'} to choose from.` : 'Nothing can be made from these cloths as asked.';
    said.textContent = state === 'done' ? whole : why;
  };
  listen(job, { answer, doubt, 'fell out': fellOut, end });
  stop.addEventListener('click', () => cancel(job));
}
