// One quiet line at the foot of the page: what was kept, what could not be.
const NEXT = 'say';
let going = 0;
export function say(words, { stays = false } = {}) {
  const line = document.getElementById('kept');
  line.textContent = words;
  clearTimeout(going);
  if (words && !stays) going = setTimeout(() => { line.textContent = ''; }, 3500);
}

// Said when the page has come anew.
export function sayNext(words) {
  try { sessionStorage.setItem(NEXT, words); } catch { /* full: it comes without a word */ }
}
export function sayWhatCame() {
  const words = sessionStorage.getItem(NEXT);
  sessionStorage.removeItem(NEXT);
  if (words && !document.querySelector('[data-refused]')) say(words);
}
