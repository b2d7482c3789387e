// The station of the log: judgements and words are kept as they are given.
import { Keeper, valueOf } from './keep.js';
import { sendPhotos } from './photo.js';

const ticket = document.querySelector('.ticket');
const keeper = new Keeper(ticket.dataset.keep, {
  kept(told) {
    const undo = document.querySelector('[data-turn=undo] button');
    if (undo && told.undo) { undo.disabled = false; undo.title = told.undo; }
    for (const line of ticket.querySelectorAll('.says-no')) line.textContent = '';
  },
  refused(no) {
    const line = ticket.querySelector('#no-minutes');
    line.textContent = `${no.what} ${no.mend}`;
    keeper.forget('minutes');
  },
});
keeper.early(ticket);
for (const [path, text] of Object.entries(keeper.entries)) {
  const field = ticket.querySelector(`[data-path="${CSS.escape(path)}"]`);
  if (field?.type === 'radio') { const one = ticket.querySelector(`[data-path="${CSS.escape(path)}"][value="${CSS.escape(text)}"]`); if (one) one.checked = true; } else if (field) field.value = text;
}
keeper.send();
ticket.addEventListener('input', ({ target }) => { if (target.dataset.path) keeper.set(target.dataset.path, valueOf(target)); });
ticket.addEventListener('change', ({ target }) => { if (target.dataset.path) keeper.send(); });
sendPhotos(ticket.querySelector('[data-photo]'), (words) => { ticket.querySelector('[data-live=photo]').textContent = words; });
