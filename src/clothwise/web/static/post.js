// Small sends that must arrive: kept in the browser, in order, until the server has them.
import { keptHere, onItsWay, ownWork } from './follow.js';
import { say } from './say.js';

const QUEUE = 'unsent';
const AGAIN = 2000; // ms

export async function post(url, body) {
  const sent = await onItsWay(fetch(url, { method: 'POST', body, headers: { Accept: 'application/json' } }));
  const told = await onItsWay(sent.json());
  keptHere(told);
  return told;
}

const queue = () => { try { return JSON.parse(localStorage.getItem(QUEUE)) || []; } catch { return []; } };
const keep = (rows) => { try { localStorage.setItem(QUEUE, JSON.stringify(rows)); } catch { /* full: it is sent from memory */ } };

let going = false;
ownWork(() => queue().length > 0);
async function run(heard) {
  if (going) return;
  going = true;
  for (let rows = queue(); rows.length; rows = queue()) {
    const [url, text] = rows[0];
    try {
      const told = await post(url, new URLSearchParams(text));
      keep(queue().slice(1));
      if (told.refused) say(`${told.refused.what} ${told.refused.mend}`); else heard?.(told);
    } catch {
      say('Not kept yet: Clothwise does not answer. It is safe in this browser and is sent as soon as it does.', { stays: true });
      setTimeout(() => run(heard), AGAIN);
      break;
    }
  }
  going = false;
}

export function sendLater(url, body, heard) {
  keep([...queue(), [url, body.toString()]]);
  run(heard);
}

if (queue().length) run(() => say('What was not kept yet is kept now.'));
