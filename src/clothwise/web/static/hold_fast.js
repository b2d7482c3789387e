// A finger that takes hold of something drawn moves it, and not the page under it. (Chromium heeds `touch-action` on a
// whole drawing, not on its parts; and the rest of the drawing shall scroll the page.)
export function holdFast(drawing, what) {
  drawing.addEventListener('touchstart', (event) => { if (event.target.closest(what)) event.preventDefault(); }, { passive: false });
}
