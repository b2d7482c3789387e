// What is typed but not yet sent is kept in the browser and put back: connection cut, tab closed, server gone.
// A form with data-draft="name" (sent whole by its button) needs nothing else; `Keeper` in keep.js uses the same store.
import { say } from './say.js';

const key = (name) => `draft:${name}`;

export function read(name) {
  try { return JSON.parse(localStorage.getItem(key(name))) || {}; } catch { return {}; }
}

export function write(name, entries) {
  try {
    if (Object.keys(entries).length) localStorage.setItem(key(name), JSON.stringify(entries));
    else localStorage.removeItem(key(name));
    return true;
  } catch { return false; }
}

const fields = (form) => [...form.elements].filter((f) => f.name && !['hidden', 'file', 'submit', 'button'].includes(f.type) && f.type !== 'password');
const valueOf = (field) => (['checkbox', 'radio'].includes(field.type) ? (field.checked ? 'yes' : '') : field.value);

function put(field, value) {
  if (['checkbox', 'radio'].includes(field.type)) field.checked = value === 'yes';
  else field.value = value;
}

const called = (field) => (['checkbox', 'radio'].includes(field.type) ? `${field.name}=${field.value}` : field.name);

export function restoreDrafts(root) {
  for (const form of root.querySelectorAll('form[data-draft]')) {
    const name = form.dataset.draft;
    const known = read(name);
    let back = 0;
    for (const field of fields(form)) {
      const value = known[called(field)];
      if (value !== undefined && value !== valueOf(field)) { put(field, value); back += 1; }
    }
    if (back) say('What you had filled in is back.');
    form.addEventListener('input', ({ target }) => {
      if (target.name) write(name, { ...read(name), [called(target)]: valueOf(target) });
    });
    form.addEventListener('submit', () => write(`${name}:sent`, read(name)));
    // Sent and answered: the page that follows is another one, so the draft has done its work.
    addEventListener('pagehide', () => { if (Object.keys(read(`${name}:sent`)).length) { write(name, {}); write(`${name}:sent`, {}); } });
  }
}
