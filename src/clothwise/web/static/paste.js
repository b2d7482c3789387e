// A pasted table is read at once: what was understood stands under it before anything is kept.
const WAIT = 350; // ms after the last key

for (const form of document.querySelectorAll('[data-paste]')) {
  const place = form.querySelector('[data-read]');
  let timer = 0, asked = 0;
  const look = async () => {
    const mine = ++asked;
    if (!form.elements.text.value.trim()) { place.replaceChildren(); return; }
    try {
      const answer = await fetch('/shelf/check', { method: 'POST', body: new URLSearchParams(new FormData(form)), headers: { Accept: 'application/json' } });
      const told = await answer.json();
      if (mine === asked) place.innerHTML = told.html ?? ''; // made and escaped by our own server
    } catch {
      if (mine === asked) place.textContent = 'Clothwise does not answer just now. What you typed is kept in this browser.';
    }
  };
  form.addEventListener('input', () => { clearTimeout(timer); timer = setTimeout(look, WAIT); });
  setTimeout(look, WAIT); // what was put back from before
}
