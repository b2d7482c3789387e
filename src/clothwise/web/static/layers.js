// What is still to be bought is laid while the page stands, and comes into its place.
const place = document.querySelector('[data-layers]');
if (place) {
  fetch(place.dataset.layers, { headers: { Accept: 'text/html' } })
    .then((answer) => { if (!answer.ok) throw new Error(answer.status); return answer.text(); })
    .then((html) => { place.innerHTML = html; })
    .catch(() => { place.querySelector('[role=status]').textContent = 'That could not be laid: Clothwise does not answer. Reload the page to try again.'; });
}
