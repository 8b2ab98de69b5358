import type { Ticks } from '../../../sheet/ticks.ts';
import type { PageData } from '../../../sheet/writers/html/page-data.ts';

type Done = Ticks['done'][number];

/** Remembers ticks on this machine, for this recording, and saves them to a file that other commands read. */
export function startTicks(data: PageData, onChange: () => void): void {
  const key = `critsheet ticks ${data.recording.sha256 || data.recording.file} ${data.shot}`;
  const boxes = [...document.querySelectorAll<HTMLInputElement>('input[data-tick]')];
  const said = document.getElementById('done');
  const done = new Map<string, Done>();
  let kept = true;

  const show = (): void => {
    for (const box of boxes) {
      const isDone = done.has(noteOf(box).id);
      box.checked = isDone;
      noteOf(box).classList.toggle('done', isDone);
      for (const strip of document.querySelectorAll(`td[data-note="${CSS.escape(noteOf(box).id)}"]`))
        strip.classList.toggle('done', isDone);
    }
    const count = boxes.filter((box) => box.checked).length;
    const where = kept ? '' : ' This browser keeps nothing for this page: save your ticks to a file.';
    if (said) said.textContent = `${count} of ${boxes.length} done.${where}`;
    onChange();
  };
  const take = (list: unknown): void => {
    done.clear();
    for (const one of Array.isArray(list) ? list : []) {
      const note = isDone(one) && noteFor(boxes, one);
      if (note) done.set(note.id, { ...one, note: note.id });
    }
  };
  const keep = (): void => {
    try {
      localStorage.setItem(key, JSON.stringify([...done.values()]));
    } catch {
      kept = false;
    }
    show();
  };
  const read = (): void => {
    try {
      take(JSON.parse(localStorage.getItem(key) ?? '[]'));
    } catch {
      kept = false;
    }
    show();
  };

  document.addEventListener('change', ({ target }) => {
    if (!(target instanceof HTMLInputElement) || !target.dataset.tick) return;
    const note = noteOf(target);
    if (target.checked) {
      const { title = '', at } = note.dataset;
      done.set(note.id, { note: note.id, title, start: Number(at), at: new Date().toISOString() });
    } else {
      done.delete(note.id);
    }
    keep();
  });
  window.addEventListener('storage', (event) => {
    if (event.key === key) read();
  });
  document.getElementById('save-ticks')?.addEventListener('click', () => {
    const ticks: Ticks = {
      schema: 'critsheet-ticks/1',
      recording: data.recording,
      shot: data.shot,
      done: [...done.values()],
    };
    download(`${data.recording.file.replace(/\.[^.]*$/, '')}.ticks.json`, JSON.stringify(ticks, null, 2));
  });
  document.getElementById('open-ticks')?.addEventListener('change', async ({ target }) => {
    const file = target instanceof HTMLInputElement ? target.files?.[0] : undefined;
    if (!file) return;
    const fault = await readFileOf(file, data.recording.sha256, take);
    if (fault === null) keep();
    else if (said) said.textContent = fault;
  });
  read();
  document.querySelector('.progress')?.toggleAttribute('hidden', boxes.length === 0);
}

/** Takes over a saved file; a sentence where it is none, or of another recording. */
async function readFileOf(file: File, sha256: string, take: (list: unknown) => void): Promise<string | null> {
  try {
    const ticks: unknown = JSON.parse(await file.text());
    if (!isRecord(ticks) || ticks.schema !== 'critsheet-ticks/1') return `${file.name} holds no ticks.`;
    const of = isRecord(ticks.recording) ? ticks.recording.sha256 : undefined;
    if (of !== sha256) return `${file.name} belongs to another recording; nothing was changed.`;
    take(ticks.done);
    return null;
  } catch {
    return `${file.name} cannot be read; nothing was changed.`;
  }
}

function noteOf(box: Element): HTMLElement {
  const note = box.closest<HTMLElement>('.note');
  if (!note) throw new Error('a tick outside of a note');
  return note;
}

/** The note that was ticked: by its words' place first, because another reading may have given its id to another. */
function noteFor(boxes: readonly HTMLInputElement[], done: Done): HTMLElement | undefined {
  const notes = boxes.map(noteOf);
  const near = (note: HTMLElement): number => Math.abs(Number(note.dataset.at) - done.start);
  const nearest = [...notes].sort((a, b) => near(a) - near(b))[0];
  return nearest && near(nearest) < 1 ? nearest : undefined;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

function isDone(value: unknown): value is Done {
  return (
    isRecord(value) &&
    typeof value.note === 'string' &&
    typeof value.title === 'string' &&
    typeof value.start === 'number' &&
    typeof value.at === 'string'
  );
}

function download(name: string, text: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
