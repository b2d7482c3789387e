// The station of work: boxes that tick at once and are kept; the clock that runs.
import { post, sendLater } from './post.js';
import { say } from './say.js';
import { duration } from './words.js';

const ticket = document.querySelector('.ticket');
const live = (name) => ticket.querySelector(`[data-live="${name}"]`);

function undoable(told) {
  const undo = document.querySelector('[data-turn=undo] button');
  if (undo && told.undo) { undo.disabled = false; undo.title = told.undo; }
  say('Kept.');
}

function left() {
  const open = [...ticket.querySelectorAll('.step:not(.done)')].reduce((sum, step) => sum + Number(step.dataset.likely), 0);
  live('left').textContent = open > 2 ? duration(open) : 'nothing';
  const steps = ticket.querySelectorAll('.step').length, done = ticket.querySelectorAll('.step.done').length;
  ticket.querySelector('[data-knot=work]').firstChild.textContent = `${done} of ${steps} steps done`;
}

// How a step is done opens with its turn; the steps of a bought pattern have theirs on its own sheet.
function open(step, wanted) {
  const how = step.querySelector('details');
  if (how) how.open = wanted;
}

for (const form of ticket.querySelectorAll('[data-tick]')) {
  const step = form.closest('.step'), box = form.querySelector('[type=checkbox]');
  box.addEventListener('change', () => {
    step.classList.toggle('done', box.checked);
    step.classList.remove('now');
    form.elements.done.value = box.checked ? 'yes' : '';
    left();
    sendLater(form.action, new URLSearchParams(new FormData(form)), undoable);
    if (box.checked) {
      open(step, false);
      const next = [...ticket.querySelectorAll('.step')].find((one) => !one.classList.contains('done'));
      if (next) { next.classList.add('now'); open(next, true); }
    }
  });
}

// A picture is fetched when its step is opened, not only when it is scrolled to: it may be printed before that.
for (const how of ticket.querySelectorAll('.step details')) {
  const fetched = () => { if (how.open) for (const picture of how.querySelectorAll('img[loading=lazy]')) picture.loading = 'eager'; };
  how.addEventListener('toggle', fetched);
  fetched();
}

const clock = ticket.querySelector('.clock');
if (clock) {
  let since = clock.dataset.since, spent = Number(clock.dataset.spent);
  const form = clock.querySelector('[data-clock]');
  const show = () => {
    const running = since ? Math.max(0, (Date.now() - Date.parse(since)) / 60000) : 0;
    const whole = Math.floor(spent + running), hours = Math.floor(whole / 60);
    live('clock').textContent = hours ? `${hours} h ${String(whole % 60).padStart(2, '0')}` : `${whole} min`;
    form.querySelector('button').textContent = since ? 'Stop the clock' : spent ? 'Go on sewing' : 'Begin sewing';
    form.elements.run.value = since ? '' : 'yes';
  };
  form.addEventListener('submit', async (event) => {
    event.preventDefault();
    try {
      const told = await post(form.action, new URLSearchParams(new FormData(form)));
      if (told.refused) { say(told.refused.what); return; }
      since = told.since; spent = told.spent;
      undoable(told);
      show();
    } catch { say('Clothwise does not answer; the clock is as it was.'); }
  });
  setInterval(show, 5000);
  show();
}
