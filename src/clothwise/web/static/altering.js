// One more alteration, or one less: what cannot be done is said beside its blank, and what was typed stays there.
import { rest, rests } from './hand_on.js';
import { say } from './say.js';

const section = document.querySelector('[data-altering]');
const more = section.querySelector('[data-kinds]');

more.addEventListener('toggle', async () => {
  const into = more.querySelector('[data-into]');
  if (!more.open || into.dataset.come) return;
  into.dataset.come = 'yes';
  try {
    const answer = await fetch(section.dataset.altering);
    if (!answer.ok) throw new Error(answer.status);
    into.innerHTML = await answer.text();
  } catch {
    delete into.dataset.come;
    into.textContent = 'Clothwise does not answer; close this and open it again.';
  }
});

section.addEventListener('submit', async (event) => {
  event.preventDefault();
  const form = event.target, no = form.querySelector('.says-no');
  const button = form.querySelector('button');
  if (rests(button)) return;
  rest(button, true);
  try {
    const told = await (await fetch(form.action, { method: 'POST', body: new URLSearchParams(new FormData(form)), headers: { Accept: 'application/json' } })).json();
    if (!told.refused) { location.reload(); return; }
    no.textContent = `${told.refused.what} ${told.refused.mend}`;
  } catch { say('Clothwise does not answer; nothing was changed.'); }
  rest(button, false);
});
