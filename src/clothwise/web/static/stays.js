// What stays at the head of the window while the page is scrolled: each part ends where the next begins, and nothing
// that is gone to by key or link lies beneath them.
const CLEAR = 8; // dots between them and what is gone to
const stays = [...document.querySelectorAll('.running, .bench')];

function settle() {
  let high = 0;
  for (const part of stays) {
    if (getComputedStyle(part).position !== 'sticky') continue;
    part.style.top = `${Math.floor(high)}px`;
    high += part.getBoundingClientRect().height;
  }
  document.documentElement.style.scrollPaddingTop = `${Math.ceil(high) + CLEAR}px`;
}

if (stays.length) {
  const watch = new ResizeObserver(settle);
  for (const part of stays) watch.observe(part);
}
