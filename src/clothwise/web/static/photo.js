// A photo is made small in the browser before it is sent: quick on any line, and free of where it was taken.
const LONGEST = 1600; // dots of the longer side
const QUALITY = 0.85;

export async function smaller(file) {
  let picture;
  try { picture = await createImageBitmap(file); } catch { return file; } // the server says what is wrong with it
  const scale = Math.min(1, LONGEST / Math.max(picture.width, picture.height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(picture.width * scale);
  canvas.height = Math.round(picture.height * scale);
  canvas.getContext('2d').drawImage(picture, 0, 0, canvas.width, canvas.height);
  const made = await new Promise((done) => { canvas.toBlob(done, 'image/jpeg', QUALITY); });
  return made ?? file;
}

export function sendPhotos(form, say) {
  form.addEventListener('submit', async (event) => {
    const file = form.elements.photo.files[0];
    if (!file) return;
    event.preventDefault();
    say('The photo is sent …');
    const body = new FormData(form);
    body.set('photo', await smaller(file), 'photo.jpg');
    try {
      const told = await (await fetch(form.action, { method: 'POST', body, headers: { Accept: 'application/json' } })).json();
      if (told.refused) say(`${told.refused.what} ${told.refused.mend}`); else location.reload();
    } catch { say('The photo was not kept: Clothwise does not answer. Choose it again later.'); }
  });
}
