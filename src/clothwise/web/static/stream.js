// News of long work as they come. Ends by itself; the browser reconnects where it left off if the line breaks.
import { ownWork } from './follow.js';
import { say } from './say.js';

const BROKEN_OFF = ['cancelled', 'interrupted'];

export function listen(job, hears) {
  const source = new EventSource(`/jobs/${job}/news`);
  ownWork(() => source.readyState !== EventSource.CLOSED); // its page comes anew when it is done
  let away = false;
  source.addEventListener('error', () => {
    if (source.readyState === EventSource.CLOSED) { say('Clothwise knows nothing of this work any more. Reload the page.', { stays: true }); return; }
    away = true;
    say('Clothwise does not answer. When it is started again, this page says how far it is.', { stays: true });
  });
  source.addEventListener('open', () => { if (away) say('Clothwise answers again.'); away = false; });
  for (const [kind, hear] of Object.entries(hears)) {
    source.addEventListener(kind, (event) => {
      const told = JSON.parse(event.data);
      if (kind === 'end') { source.close(); if (BROKEN_OFF.includes(told.state)) offerAgain(job); }
      hear(told);
    });
  }
  return source;
}

// Work that was left or broken off can be asked for again, under the words that say so.
function offerAgain(job) {
  const said = document.querySelector(`[data-job="${job}"] [data-said], [data-awaited="${job}"] [data-said]`);
  if (!said) return; // the station of cloth: its own button lays anew
  const form = Object.assign(document.createElement('form'), { method: 'post', action: `/jobs/${job}/again`, className: 'deed no-print' });
  form.append(
    Object.assign(document.createElement('input'), { type: 'hidden', name: 'back', value: location.pathname + location.search }),
    Object.assign(document.createElement('button'), { textContent: 'Go on with it' }),
  );
  form.dataset.again = job;
  said.closest('p').after(form);
}

export async function cancel(job) {
  await fetch(`/jobs/${job}/cancel`, { method: 'POST', headers: { Accept: 'application/json' } });
}
