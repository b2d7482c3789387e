// A part of the page that takes a while is worked out while the page stands; then the page comes with it.
const later = document.querySelector('[data-later]');
if (later) {
  const here = new URL(location.href);
  here.searchParams.set('wait', '1');
  fetch(here).then((answer) => { if (answer.ok) location.reload(); else throw new Error(answer.status); })
    .catch(() => { later.textContent = 'That could not be worked out: Clothwise does not answer. Reload the page to try again.'; });
}
