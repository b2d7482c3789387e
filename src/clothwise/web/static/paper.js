// The station of paper: sheets picked on the map or by their boxes; the packet as it is made.
import { listen } from './stream.js';

const form = document.querySelector('[data-pick]');
if (form) {
  const boxes = [...form.querySelectorAll('[name=only]')];
  const download = form.querySelector('[data-download]');
  const show = () => {
    const picked = boxes.filter((box) => box.checked);
    for (const box of boxes) form.querySelector(`[data-sheet="${box.value}"]`)?.classList.toggle('picked', box.checked);
    download.textContent = picked.length ? `Print file of ${picked.map((box) => box.value).join(', ')}` : 'Print file of all sheets';
    const here = new URL(location.href);
    here.searchParams.delete('only');
    for (const box of picked) here.searchParams.append('only', box.value);
    history.replaceState(null, '', here);
  };
  form.addEventListener('change', show);
  form.querySelector('.map').addEventListener('click', ({ target }) => {
    const sheet = target.closest('[data-sheet]');
    const box = sheet && boxes.find(({ value }) => value === sheet.dataset.sheet);
    if (!box) return;
    box.checked = !box.checked;
    form.querySelector('details').open = true;
    show();
  });
  show();
}

const packing = document.querySelector('[data-job]');
if (packing && ['waiting', 'running'].includes(packing.dataset.state)) {
  const said = packing.querySelector('[data-said]');
  listen(packing.dataset.job, {
    laid: () => { said.textContent = 'Laid; now it is drawn and set …'; },
    packed: () => {},
    end: ({ state, said: why }) => {
      said.textContent = state === 'done' ? 'The packet is ready.' : why;
      packing.querySelector('[data-ready]').hidden = state !== 'done';
    },
  });
}
