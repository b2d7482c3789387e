// After a deed, or when it is asked for anew, the page comes again where it stood: as far down as before, and whoever works
// by keys on the same button or blank as before, or on what stands next to it where that has gone.
const KEY = `again:${location.pathname}`;
const REACHED = 'a[href], button, input:not([type=hidden]), select, textarea, summary, [tabindex="0"]';
const NEAR = 12; // how many neighbours are remembered, before and after

const form = (node) => node.closest('form');
const own = (node) => node.id || node.dataset.path || node.dataset.tape || node.dataset.corner || node.getAttribute('name') || node.getAttribute('href') || node.closest('[data-blank]')?.dataset.blank || '';
const group = (node) => form(node)?.querySelectorAll('button, input, select, textarea') ?? [];

// By what a thing is known again: what it is and does, wherever it stands in a list that grew or shrank.
function exact(node) {
  const told = [...(form(node)?.querySelectorAll('input[type=hidden]') ?? [])].filter(({ name }) => name !== 'back').map(({ value }) => value);
  return [node.tagName, form(node)?.getAttribute('action'), ...told, own(node), node.dataset.piece, node.dataset.copy, node.value ?? '', node.value === undefined || node.tagName === 'BUTTON' ? node.textContent.trim() : ''].join('|');
}
// By less, for a button whose words turn as it is pressed: only of use where nothing else is like it.
const loose = (node) => [node.tagName, form(node)?.getAttribute('action'), own(node), [...group(node)].indexOf(node)].join('|');

const reached = () => [...document.querySelectorAll(REACHED)];

function leave() {
  const at = document.activeElement, all = reached(), n = all.indexOf(at), state = { y: scrollY };
  if (n >= 0 && at.matches(':focus-visible')) {
    const after = all.slice(n + 1, n + 1 + NEAR), before = all.slice(Math.max(0, n - NEAR), n).reverse();
    const part = at.closest('section, ul, ol'), within = (node) => (part?.contains(node) ? 0 : 1); // what belongs to the same part comes first
    Object.assign(state, { own: exact(at), loose: loose(at), near: [...after, ...before].sort((a, b) => within(a) - within(b)).map(exact) });
  }
  try { sessionStorage.setItem(KEY, JSON.stringify(state)); } catch { /* full: the page begins at its head */ }
}

function found({ own: was, loose: like, near }) {
  const all = reached().filter((node) => !node.disabled && !node.closest('[hidden]')), known = all.map(exact), at = (key) => all[known.indexOf(key)];
  const alike = all.filter((node) => loose(node) === like);
  return at(was) ?? (alike.length === 1 ? alike[0] : null) ?? near.map(at).find(Boolean);
}

function come(state) {
  scrollTo(0, state.y);
  if (!state.own || (document.activeElement && document.activeElement !== document.body)) return;
  const node = found(state) ?? document.getElementById('main');
  for (let fold = node.closest('details'); fold; fold = fold.parentElement.closest('details')) if (node !== fold.firstElementChild) fold.open = true;
  node.focus();
}

let fresh = false; // left by a link, or by a deed whose word stands at the head of the page
addEventListener('click', ({ target }) => { if (target.closest?.('a[href]')) fresh = true; });
addEventListener('submit', ({ target }) => { fresh = 'toHead' in target.dataset; });
addEventListener('pagehide', () => { if (fresh) sessionStorage.removeItem(KEY); else leave(); });

const [{ type }] = performance.getEntriesByType('navigation');
const itself = document.referrer && new URL(document.referrer).pathname === location.pathname;
const state = JSON.parse(sessionStorage.getItem(KEY) ?? 'null');
sessionStorage.removeItem(KEY);
if (state && (type === 'reload' || (type === 'navigate' && itself))) requestAnimationFrame(() => come(state));
