// Autosave by entries. Fields carry data-path; what is typed is kept in the browser at once, sent a moment later or when
// the field is left, and dropped from the browser only when the server says that it keeps it. Sending again does no harm.
import * as draft from './draft.js';
import { keptHere, onItsWay, waitFor } from './follow.js';
import { say } from './say.js';

const QUIET = 700; // ms after the last key before it is sent by itself
const AGAIN = [500, 1500, 4000, 8000]; // ms until the next try when the server cannot be reached

export const valueOf = (field) => (field.type === 'checkbox' ? (field.checked ? 'yes' : '') : field.value);

export class Keeper {
  // url      of POST {set: {path: text}} -> {version, says, undo} or {refused: {what, mend, path}}
  // hears    kept(answer, entries), refused(refusal), changed(paths): all optional
  constructor(url, hears = {}) {
    Object.assign(this, { url, hears, waiting: draft.read(url), sending: null, tries: 0, timer: 0, refusals: 0, pressed: null });
    waitFor(() => Object.keys(this.waiting).length > 0);
    addEventListener('online', () => this.send());
    addEventListener('pagehide', () => this.leave());
    addEventListener('submit', (event) => this.first(event), true);
    document.addEventListener('visibilitychange', () => { if (document.visibilityState === 'hidden') this.leave(); });
  }

  get entries() { return { ...this.waiting }; }

  set(path, text) {
    this.waiting[path] = text;
    if (!draft.write(this.url, this.waiting)) say('This browser keeps no drafts; it is sent at once.');
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.send(), QUIET);
  }

  // What was typed or chosen before this script was there. Only fields with autocomplete=off: a browser may fill the
  // others with what stood there on an earlier visit.
  early(root, read = valueOf) {
    for (const field of root.querySelectorAll('[data-path][autocomplete=off]')) {
      if (draft.touched(field) && !(field.dataset.path in this.waiting)) this.set(field.dataset.path, read(field));
    }
  }

  forget(path) {
    delete this.waiting[path];
    draft.write(this.url, this.waiting);
  }

  send() {
    clearTimeout(this.timer);
    if (!this.sending && Object.keys(this.waiting).length) this.sending = this.sent({ ...this.waiting });
    return this.sending;
  }

  // A form is sent only after what was typed before its button was pressed.
  async first(event) {
    const { target: form, submitter } = event, refusals = this.refusals;
    if (this.pressed === form || !Object.keys(this.waiting).length) { this.pressed = null; return; }
    event.preventDefault();
    event.stopImmediatePropagation();
    while (Object.keys(this.waiting).length && this.refusals === refusals) {
      await this.send();
      if (this.tries) return; // it was said: not kept yet
    }
    if (this.refusals > refusals) return;
    this.pressed = form;
    form.requestSubmit(submitter);
  }

  async sent(entries) {
    try {
      const answer = await onItsWay(fetch(this.url, { method: 'POST', body: JSON.stringify({ set: entries }), headers: { 'Content-Type': 'application/json', Accept: 'application/json' } }));
      const told = await onItsWay(answer.json());
      this.tries = 0;
      if (told.refused) this.refused(told.refused, entries);
      else this.kept(told, entries);
    } catch {
      const wait = AGAIN[Math.min(this.tries, AGAIN.length - 1)];
      this.tries += 1;
      say('Not kept yet: Clothwise does not answer. What you typed is safe in this browser and is sent as soon as it does.', { stays: true });
      this.timer = setTimeout(() => this.send(), wait);
    } finally { this.sending = null; }
    if (!this.tries && Object.keys(this.waiting).some((path) => this.waiting[path] !== entries[path])) this.send();
  }

  kept(told, entries) {
    for (const [path, text] of Object.entries(entries)) if (this.waiting[path] === text) delete this.waiting[path];
    draft.write(this.url, this.waiting);
    say('Kept.');
    keptHere(told);
    this.hears.kept?.(told, entries);
  }

  refused(no, entries) {
    this.refusals += 1;
    if (no.path) {
      if (this.waiting[no.path] === entries[no.path]) this.forget(no.path);
      this.hears.refused?.(no);
      if (Object.keys(this.waiting).length) this.timer = setTimeout(() => this.send(), 0);
    } else this.hears.refused?.(no);
  }

  // The page is left: one last try that outlives it. What fails is still in the browser.
  leave() {
    if (!Object.keys(this.waiting).length) return;
    fetch(this.url, { method: 'POST', keepalive: true, body: JSON.stringify({ set: this.waiting }), headers: { 'Content-Type': 'application/json', Accept: 'application/json' } }).catch(() => {});
  }
}
