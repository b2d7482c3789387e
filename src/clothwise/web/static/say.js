// One quiet line at the foot of the page: what was kept, what could not be.
let going = 0;
export function say(words, { stays = false } = {}) {
  const line = document.getElementById('kept');
  line.textContent = words;
  clearTimeout(going);
  if (words && !stays) going = setTimeout(() => { line.textContent = ''; }, 3500);
}
