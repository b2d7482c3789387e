const key = `takeaway:${document.body.dataset.mark}`;
let ticked = {};
try { ticked = JSON.parse(localStorage.getItem(key)) || {}; } catch { ticked = {}; }
for (const box of document.querySelectorAll('.step input')) {
  const show = () => box.closest('.step').classList.toggle('done', box.checked);
  box.checked = Boolean(ticked[box.id]);
  show();
  box.addEventListener('change', () => {
    ticked[box.id] = box.checked;
    try { localStorage.setItem(key, JSON.stringify(ticked)); } catch { /* it works on, and forgets */ }
    show();
  });
}
