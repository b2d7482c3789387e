// What was taken back or done again is said where the page comes anew.
import { say } from './say.js';

const KEY = 'turned';
const words = { undo: 'Taken back', redo: 'Done again' };
for (const form of document.querySelectorAll('[data-turn]')) {
  form.addEventListener('submit', () => {
    try { sessionStorage.setItem(KEY, `${words[form.dataset.turn]}: ${form.querySelector('button').title}.`); } catch { /* full: it is done without a word */ }
  });
}
const told = sessionStorage.getItem(KEY);
if (told) { sessionStorage.removeItem(KEY); if (!document.querySelector('[data-refused]')) say(told); }
