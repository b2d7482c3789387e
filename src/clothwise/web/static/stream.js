// News of long work as they come. Ends by itself; the browser reconnects where it left off if the line breaks.
export function listen(job, hears) {
  const source = new EventSource(`/jobs/${job}/news`);
  for (const [kind, hear] of Object.entries(hears)) {
    source.addEventListener(kind, (event) => {
      if (kind === 'end') source.close();
      hear(JSON.parse(event.data));
    });
  }
  return source;
}

export async function cancel(job) {
  await fetch(`/jobs/${job}/cancel`, { method: 'POST', headers: { Accept: 'application/json' } });
}
