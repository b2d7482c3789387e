// On every page: undo and redo by keyboard, forms whose typing is never lost, other tabs told of changes.
import './again.js';
import './follow.js';
import './later.js';
import './stays.js';
import { restoreDrafts } from './draft.js';
import { sendForms } from './send_form.js';

restoreDrafts(document);
sendForms(document);

// Escape shuts the blank that is being filled in; what was typed there stays.
document.addEventListener('keydown', ({ key, target }) => {
  const blank = key === 'Escape' && target.closest?.('details.blank[open]');
  if (!blank) return;
  blank.open = false;
  blank.querySelector('summary').focus();
});

const turns = { undo: document.querySelector('[data-turn=undo]'), redo: document.querySelector('[data-turn=redo]') };
document.addEventListener('keydown', (event) => {
  const typing = event.target.matches?.('input[type=text], input:not([type]), textarea');
  if (typing || !(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  const wanted = key === 'z' && !event.shiftKey ? 'undo' : key === 'y' || (key === 'z' && event.shiftKey) ? 'redo' : '';
  const form = wanted && turns[wanted];
  if (form && !form.querySelector('button').disabled) {
    event.preventDefault();
    form.requestSubmit();
  }
});
