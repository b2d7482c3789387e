// What this page shows may be changed in another tab or on another device: the page asks every few seconds how it stands,
// tells what was done there, and comes anew as soon as nothing here is half done. Nobody types over what she cannot see.
import { touched } from './draft.js';
import { say, sayNext } from './say.js';

const EVERY = 2500; // ms between two looks, while the page is seen
const QUIET = 1500; // ms after the last key or touch before the page comes anew
const UNSURE = '?'; // it was changed while this page was made: it comes anew without a word
const { scopes, stands } = document.body.dataset;
const things = scopes ? JSON.parse(scopes) : [];
const others = stands && 'BroadcastChannel' in globalThis ? new BroadcastChannel('clothwise') : null;
let known = stands ?? '', upto = '', told = '', going = 0, last = 0, held = false, leaving = false;

const open = (field) => field.name && field.type !== 'hidden' && field.tagName !== 'BUTTON' && 'value' in field && touched(field);
const half = [ // what is half done here: nothing is taken from under a hand
  () => held || Date.now() - last < QUIET,
  () => [...document.querySelectorAll('main form:not([data-draft])')].some((form) => [...form.elements].some(open)),
];
const own = [() => going > 0]; // what is on its way from here: how things stand cannot be told apart from it meanwhile
export function waitFor(test) { half.push(test); }
export function ownWork(test) { own.push(test); }
export async function onItsWay(sent) {
  going += 1;
  try { return await sent; } finally { going -= 1; }
}

// An answer to something kept here tells how things stood right before it and stand right after.
export function keptHere({ stood, stands: now }) {
  if (!now) return;
  others?.postMessage(now);
  if (stood === known) known = now;
  else { upto ||= stood; setTimeout(look); } // something was done elsewhere in between
}

async function look() {
  if (leaving || own.some((test) => test())) return;
  const on = known;
  const asked = new URLSearchParams([...things.map((one) => ['scope', one]), ['on', on], ['until', upto]]);
  const answer = await fetch(`/stands?${asked}`, { headers: { Accept: 'application/json' } }).catch(() => null);
  if (!answer?.ok) return;
  const { stands: now, since } = await answer.json();
  if (leaving || on !== known || now === known || own.some((test) => test())) return;
  if (on !== UNSURE && (since.length || !told)) told = `Changed elsewhere: ${since.join('; ') || 'what you see here is older'}.`;
  if (half.some((test) => test())) { if (told) say(`${told} What you fill in here is kept as well.`, { stays: true }); return; }
  leaving = true;
  if (told) sayNext(told);
  location.reload();
}

if (things.length && stands) {
  const seen = () => document.visibilityState === 'visible';
  setInterval(() => { if (seen()) look(); }, EVERY);
  document.addEventListener('visibilitychange', () => { if (seen()) look(); });
  others?.addEventListener('message', () => look());
  for (const kind of ['keydown', 'pointerdown', 'pointermove']) addEventListener(kind, () => { if (kind !== 'pointermove' || held) last = Date.now(); }, true);
  addEventListener('pointerdown', () => { held = true; }, true);
  for (const kind of ['pointerup', 'pointercancel']) addEventListener(kind, () => { held = false; }, true);
  addEventListener('submit', () => { leaving = true; setTimeout(() => { leaving = false; }, 10_000); });
}
