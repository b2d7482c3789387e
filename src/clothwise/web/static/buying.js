// What is worked out for the shop, put onto the page as it is found; ticks stay in this browser.
import { restoreDrafts } from './draft.js';
import { hide } from './hand_on.js';
import { cancel, listen } from './stream.js';

const awaited = document.querySelector('[data-awaited]');
if (awaited) {
  const job = awaited.dataset.awaited;
  const said = awaited.querySelector('[data-said]');
  const stop = awaited.querySelector('[data-cancel]');
  let seen = 0;
  const found = ({ html }) => {
    const place = document.createElement('template');
    place.innerHTML = html; // made and escaped by our own server
    const item = place.content.firstElementChild;
    const form = item.querySelector('[data-draft]');
    if (form) form.dataset.draft = `shopping:${job}`;
    awaited.querySelector('[data-found]').append(item);
    item.querySelector('[data-print]')?.addEventListener('click', () => print());
    restoreDrafts(item);
    seen += 1;
  };
  listen(job, {
    step: ({ words }) => { said.textContent = words; },
    'shopping list': found,
    width: found,
    end: ({ state, said: why }) => {
      hide(stop, awaited.querySelector('[data-again] button') ?? awaited);
      said.textContent = state === 'done' ? '' : why || 'It was left before it was done.';
      awaited.dataset.done = seen;
    },
  });
  stop.addEventListener('click', (event) => { event.preventDefault(); cancel(job); });
}
