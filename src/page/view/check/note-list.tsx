import type { VNode } from 'preact';
import { useState } from 'preact/hooks';
import type { CheckState } from '../../check-api.ts';

/** The notes to look at, least sure first, or all of them in rank order. */
export function NoteList({
  state,
  current,
  done,
  onChoose,
}: {
  state: CheckState;
  current: string | null;
  done: ReadonlySet<string>;
  onChoose: (id: string) => void;
}): VNode {
  const [all, setAll] = useState(false);
  const notes = state.sheet.notes;
  const queued = state.queue.flatMap((id) => notes.find((note) => note.id === id) ?? []);
  const listed = all ? [...notes].sort((a, b) => a.rank - b.rank) : queued;
  return (
    <nav aria-label="Notes">
      <h2>{all ? 'All notes' : 'To look at'}</h2>
      <label class="switch">
        <input
          type="checkbox"
          checked={all}
          onChange={({ currentTarget }) => setAll(currentTarget.checked)}
        />{' '}
        show all {notes.length} notes
      </label>
      {listed.length === 0 && <p class="says">Nothing is uncertain.</p>}
      <ol>
        {listed.map((note) => (
          <li key={note.id}>
            <button
              type="button"
              class={`${note.role} ${note.withdrawn ? 'back' : ''}`}
              aria-current={note.id === current ? 'true' : undefined}
              onClick={() => onChoose(note.id)}
            >
              <b>{note.rank}</b> {note.title}
              {done.has(note.id) && <span class="seen"> looked at</span>}
            </button>
          </li>
        ))}
      </ol>
    </nav>
  );
}
