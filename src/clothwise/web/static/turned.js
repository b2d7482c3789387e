// What was taken back or done again, or has come from elsewhere, is said where the page comes anew.
import { sayNext, sayWhatCame } from './say.js';

const words = { undo: 'Taken back', redo: 'Done again' };
for (const form of document.querySelectorAll('[data-turn]')) {
  form.addEventListener('submit', () => { sayNext(`${words[form.dataset.turn]}: ${form.querySelector('button').title}.`); });
}
sayWhatCame();
