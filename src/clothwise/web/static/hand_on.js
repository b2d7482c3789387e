// What goes out of sight or to rest hands the focus on, so that whoever works by keys is not put back to the page's head.

export function hide(node, next) {
  const held = node.contains(document.activeElement);
  node.hidden = true;
  if (held) next?.focus();
}

// A button at work is not switched off, which would take the focus from it: it says that it rests, and rests.
export const rests = (button) => button.getAttribute('aria-disabled') === 'true';
export function rest(button, yes) {
  if (yes) button.setAttribute('aria-disabled', 'true'); else button.removeAttribute('aria-disabled');
}
