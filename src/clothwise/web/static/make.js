// A finished make: what is said of it anew is kept as it is said.
import { Keeper, valueOf } from './keep.js';
import { sendPhotos } from './photo.js';

const made = document.querySelector('.made');
const line = made.querySelector('.says-no');
const keeper = new Keeper(made.dataset.keep, {
  kept(told) {
    const undo = document.querySelector('[data-turn=undo] button');
    if (undo && told.undo) { undo.disabled = false; undo.title = told.undo; }
    line.textContent = '';
  },
  refused(no) { line.textContent = `${no.what} ${no.mend}`; },
});
keeper.early(made);
for (const [path, text] of Object.entries(keeper.entries)) {
  const fields = [...made.querySelectorAll(`[data-path="${CSS.escape(path)}"]`)];
  for (const field of fields) { if (field.type === 'radio') field.checked = field.value === text; else field.value = text; }
}
keeper.send();
made.addEventListener('input', ({ target }) => { if (target.dataset.path) keeper.set(target.dataset.path, valueOf(target)); });
made.addEventListener('change', ({ target }) => { if (target.dataset.path) keeper.send(); });
sendPhotos(made.querySelector('[data-photo]'), (words) => { made.querySelector('[data-live=photo]').textContent = words; });
