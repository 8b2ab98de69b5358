/** Unfolds runs of frames, and shows which strip of the exposure sheet and which note of the list belong together. */
export function startExposure(): void {
  document.addEventListener('click', ({ target }) => {
    if (!(target instanceof Element)) return;
    const row = target.closest('[data-unfold]')?.closest('tr');
    if (row) unfold(row);
    const frames = target.closest<HTMLAnchorElement>('a.frames');
    if (frames) flash(document.querySelector(frames.getAttribute('href') ?? ''));
  });
  const light = (event: Event, on: boolean): void => {
    if (!(event.target instanceof Element)) return;
    const id =
      event.target.closest<HTMLElement>('.note')?.id ??
      event.target.closest<HTMLElement>('[data-note]')?.dataset.note;
    if (!id) return;
    for (const one of document.querySelectorAll(`td[data-note="${CSS.escape(id)}"], #${CSS.escape(id)}`))
      one.classList.toggle('lit', on);
  };
  for (const name of ['pointerover', 'focusin'])
    document.addEventListener(name, (event) => light(event, true));
  for (const name of ['pointerout', 'focusout'])
    document.addEventListener(name, (event) => light(event, false));
}

function flash(row: Element | null): void {
  row?.classList.remove('flash');
  requestAnimationFrame(() => row?.classList.add('flash'));
}

const HALF_FOOT_FRAMES = 8;

/** Puts a row for every frame in the place of a fold. Strips that run across the fold grow by as much. */
function unfold(fold: HTMLTableRowElement): void {
  const [first, last] = [Number(fold.dataset.first), Number(fold.dataset.last)];
  const table = fold.closest('table');
  const clocks = clockOf(table);
  const emptyCells = (name: string): HTMLTableCellElement[] =>
    [...fold.querySelectorAll<HTMLTableCellElement>(`td.${name}`)].map((cell) => {
      const empty = document.createElement('td');
      empty.className = cell.className;
      return empty;
    });
  for (const cell of table?.querySelectorAll<HTMLTableCellElement>('td[rowspan]') ?? []) {
    const row = cell.closest('tr');
    if (!row || !table) continue;
    const begins = row.rowIndex;
    if (begins < fold.rowIndex && begins + cell.rowSpan > fold.rowIndex) cell.rowSpan += last - first;
  }
  const rows = Array.from({ length: last - first + 1 }, (_, i) => {
    const frame = first + i;
    const row = document.createElement('tr');
    row.id = `f${frame}`;
    const number = document.createElement('th');
    number.scope = 'row';
    number.className = 'frame';
    number.textContent = String(frame);
    const clock = document.createElement('td');
    clock.className = 'clock';
    clock.textContent = clocks(frame);
    row.append(...emptyCells('action'), number, clock, ...emptyCells('leave'), ...emptyCells('crowd'));
    const count = frame - clocks.first + 1;
    if (count % HALF_FOOT_FRAMES === 0) row.className = 'heavy';
    return row;
  });
  fold.replaceWith(...rows);
  rows[0]?.setAttribute('tabindex', '-1');
  rows[0]?.focus();
}

/** Seconds and frames of a frame, told from a row that has them. */
function clockOf(table: HTMLTableElement | null): ((frame: number) => string) & { first: number } {
  const { first: begins = '0', rate = '24' } = table?.dataset ?? {};
  const tell = (frame: number): string => {
    const count = frame - Number(begins);
    return count < 0 ? '' : `${Math.floor(count / Number(rate))}+${count % Number(rate)}`;
  };
  return Object.assign(tell, { first: Number(begins) });
}
