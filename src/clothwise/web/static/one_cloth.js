// One cloth: fields kept as they are typed; its shape pulled by its corners.
import { Keeper, valueOf } from './keep.js';
import { sendPhotos } from './photo.js';
import { Shaping } from './pull_corner.js';

const bolt = document.querySelector('.bolt');
const fields = (path) => bolt.querySelectorAll(`[data-path="${CSS.escape(path)}"]`);
const noLine = (path) => bolt.querySelector(`[data-no="${CSS.escape(path)}"]`) ?? bolt.querySelector('[data-no=flaws]');
const typed = (field) => ('yesNo' in field.dataset ? (field.checked ? 'yes' : 'no') : valueOf(field));

const shaping = new Shaping(bolt.querySelector('.shaping'), (path, text) => { keeper.set(path, text); keeper.send(); });
const keeper = new Keeper(bolt.dataset.keep, {
  kept(told, entries) {
    const undo = document.querySelector('[data-turn=undo] button');
    if (undo && told.undo) { undo.disabled = false; undo.title = told.undo; }
    for (const path of Object.keys(entries)) { noLine(path).textContent = ''; for (const field of fields(path)) field.removeAttribute('aria-invalid'); }
    for (const [path, text] of Object.entries(told.says)) {
      for (const field of fields(path)) {
        if (field === document.activeElement && !(path in entries)) continue;
        if (field.type === 'checkbox') field.checked = text === 'yes'; else if (document.activeElement !== field || field.tagName === 'SELECT') field.value = text;
      }
    }
    bolt.querySelector('[data-told]').textContent = told.told;
    bolt.querySelector('[data-facts]').replaceChildren(...told.facts.map((text) => { const item = document.createElement('li'); item.textContent = text; return item; }));
    shaping.show(told.shape);
  },
  refused(no) {
    noLine(no.path).textContent = `${no.what} ${no.mend}`;
    for (const field of fields(no.path)) field.setAttribute('aria-invalid', 'true');
    shaping.back();
  },
});
keeper.early(bolt, typed);
for (const [path, text] of Object.entries(keeper.entries)) for (const field of fields(path)) { if (field.type === 'checkbox') field.checked = text === 'yes'; else field.value = text; }
keeper.send();
bolt.addEventListener('input', ({ target }) => { if (target.dataset.path) keeper.set(target.dataset.path, typed(target)); });
bolt.addEventListener('change', ({ target }) => { if (target.dataset.path) keeper.send(); });
sendPhotos(bolt.querySelector('[data-photo]'), (words) => { bolt.querySelector('[data-live=photo]').textContent = words; });
