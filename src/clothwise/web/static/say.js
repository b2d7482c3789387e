// One quiet line at the foot of the page: what was kept, what could not be.
const NEXT = 'say';
const CLEAR = 16; // dots between the line and what is gone to
let going = 0;

// What is gone to by key comes to lie above the line; what had the focus beneath it is drawn up from there.
function uncover(line) {
  const { top, left, height } = line.getBoundingClientRect(), held = document.activeElement?.getBoundingClientRect();
  document.documentElement.style.scrollPaddingBottom = line.textContent ? `${Math.ceil(height) + 2 * CLEAR}px` : '';
  if (!line.textContent || document.activeElement === document.body) return;
  const under = held.bottom > top && held.top < innerHeight && (held.left + held.right) / 2 > left && (held.top + held.bottom) / 2 > top - CLEAR;
  if (under) scrollBy(0, held.bottom - top + CLEAR);
}

export function say(words, { stays = false } = {}) {
  const line = document.getElementById('kept');
  line.textContent = words;
  uncover(line);
  clearTimeout(going);
  if (words && !stays) going = setTimeout(() => { line.textContent = ''; uncover(line); }, 3500);
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
