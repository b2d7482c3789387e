// A file dropped anywhere on the page goes into the form that opens files, and is opened.
const form = document.querySelector('[data-drop]');
if (form) {
  const holds = (event) => event.dataTransfer?.types.includes('Files');
  addEventListener('dragover', (event) => { if (holds(event)) { event.preventDefault(); form.classList.add('over'); } });
  addEventListener('dragleave', (event) => { if (!event.relatedTarget) form.classList.remove('over'); });
  addEventListener('drop', (event) => {
    if (!holds(event)) return;
    event.preventDefault();
    form.classList.remove('over');
    form.elements.open.files = event.dataTransfer.files;
    form.requestSubmit();
  });
}
