// A form with data-draft is sent without leaving the page. What is refused is said under it, and all that was filled in
// stands; what is taken leads on, and only then is it forgotten here.
import { write } from './draft.js';
import { say } from './say.js';

function told(form, words) {
  const line = form.querySelector(':scope > .says-no') ?? Object.assign(document.createElement('p'), { className: 'says-no' });
  line.setAttribute('role', 'alert');
  form.append(line);
  line.textContent = words;
}

async function send(form, button) {
  try {
    const answer = await fetch(form.action, { method: 'POST', body: new URLSearchParams(new FormData(form, button)), headers: { Accept: 'application/json' } });
    if (answer.ok) {
      write(form.dataset.draft, {});
      location.assign(answer.url);
      return;
    }
    const { refused } = await answer.json();
    told(form, `${refused.what} ${refused.mend}`);
  } catch { say('Not sent: Clothwise does not answer. What you filled in is safe in this browser; press again when it does.', { stays: true }); }
  form.removeAttribute('aria-busy');
}

export function sendForms(root) {
  for (const form of root.querySelectorAll('form[data-draft][method=post]')) {
    form.addEventListener('submit', (event) => {
      event.preventDefault();
      if (form.getAttribute('aria-busy')) return; // pressed twice
      form.setAttribute('aria-busy', 'true');
      told(form, '');
      send(form, event.submitter);
    });
  }
}
