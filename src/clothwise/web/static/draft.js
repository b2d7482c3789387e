// What is typed but not yet sent is kept in the browser and put back: connection cut, tab closed, server gone.
// A form with data-draft="name" is kept until the server has taken it (send_form.js); `Keeper` in keep.js uses the same store.
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

// Whether a field was changed since the page was made: by hand before the scripts were there, or by the browser.
export function touched(field) {
  if (field.type === 'radio') return field.checked && !field.defaultChecked;
  if (field.type === 'checkbox') return field.checked !== field.defaultChecked;
  if (field.tagName !== 'SELECT') return field.value !== field.defaultValue;
  const usual = [...field.options].find((option) => option.defaultSelected) ?? field.options[0];
  return usual !== undefined && field.value !== usual.value;
}

const called = (field) => (['checkbox', 'radio'].includes(field.type) ? `${field.name}=${field.value}` : field.name);

export function restoreDrafts(root) {
  for (const form of root.querySelectorAll('form[data-draft]')) {
    const name = form.dataset.draft;
    const known = read(name);
    let back = 0;
    for (const field of fields(form)) {
      const value = known[called(field)];
      if (touched(field)) known[called(field)] = valueOf(field); // typed before this script was there
      else if (value !== undefined && value !== valueOf(field)) { put(field, value); back += 1; }
    }
    write(name, known);
    if (back) say('What you had filled in is back.');
    form.addEventListener('input', ({ target }) => {
      if (target.name) write(name, { ...read(name), [called(target)]: valueOf(target) });
    });
  }
}
