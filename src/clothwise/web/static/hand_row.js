// Moving a piece without dragging it: chosen by a tap or from the list, moved by buttons that say where it goes.
export function handRow(row, cloth, moves) {
  const list = row.querySelector('[data-whose]'), by = row.querySelector('[data-by]');
  const key = ({ dataset }) => `${dataset.piece}/${dataset.copy}`;
  const pieces = () => [...cloth.querySelectorAll('.copy')];
  let used = false; // until somebody chooses a piece, none is marked

  const mark = () => { for (const group of pieces()) group.classList.toggle('chosen', used && key(group) === list.value); };
  const choose = (value) => { used = true; list.value = value; mark(); };
  const deeds = {
    left: (group, far) => moves.nudge(group, -far, 0), right: (group, far) => moves.nudge(group, far, 0),
    up: (group, far) => moves.nudge(group, 0, -far), down: (group, far) => moves.nudge(group, 0, far),
    turn: moves.turn, free: moves.free,
  };

  cloth.addEventListener('focusin', ({ target }) => { const group = target.closest('.copy'); if (group) choose(key(group)); });
  list.addEventListener('change', () => choose(list.value));
  row.addEventListener('click', ({ target }) => {
    const button = target.closest('[data-hand]'), group = pieces().find((one) => key(one) === list.value);
    if (!button || !group) return;
    choose(list.value);
    deeds[button.dataset.hand](group, Number(by.value));
  });

  return {
    // The pieces were drawn anew: the list follows, the choice stays.
    drawn() {
      const was = list.value;
      list.replaceChildren(...pieces().map((group) => new Option(group.getAttribute('aria-label'), key(group))));
      if (was && pieces().some((group) => key(group) === was)) list.value = was;
      mark();
    },
  };
}
