/** Shows the notes that are asked for, in the order that is asked for. Gives a function that does so again. */
export function startFilters(): () => void {
  const form = document.querySelector<HTMLFormElement>('form.filters');
  if (!form) return () => undefined;
  const notes = [...document.querySelectorAll<HTMLElement>('.note')];
  const apply = (): void => {
    const wanted = new FormData(form);
    const is = (name: string): string => String(wanted.get(name) ?? '');
    let shown = 0;
    for (const note of notes) {
      const { character = '', parts = '', kind = '' } = note.dataset;
      const fits =
        (!is('character') || character === is('character')) &&
        (!is('part') || parts.split(' ').includes(is('part'))) &&
        (!is('kind') || kind === is('kind')) &&
        (!is('open') || !note.classList.contains('done'));
      note.hidden = !fits;
      if (fits) shown++;
    }
    for (const group of document.querySelectorAll<HTMLElement>('.group:not(.uncertain)'))
      group.hidden = !group.querySelector('.note:not([hidden])');
    order(is('order'));
    const said = form.querySelector('.shown');
    if (said) said.textContent = shown === notes.length ? '' : `${shown} of ${notes.length} notes shown`;
  };
  form.addEventListener('change', apply);
  form.addEventListener('submit', (event) => event.preventDefault());
  form.hidden = false;
  apply();
  return apply;
}

let now = 'rank';

function order(by: string): void {
  if (by === now) return;
  now = by;
  const place = (note: HTMLElement): number =>
    by === 'frame' ? Number(note.dataset.frame ?? Number.POSITIVE_INFINITY) : 0;
  for (const list of document.querySelectorAll('ol.notes')) {
    const sorted = [...list.querySelectorAll<HTMLElement>(':scope > .note')].sort(
      (a, b) => place(a) - place(b) || Number(a.dataset.rank) - Number(b.dataset.rank),
    );
    list.append(...sorted);
  }
}
