import type { VNode } from 'preact';
import { useState } from 'preact/hooks';
import { minutesStamp } from '../../../basics/time.ts';
import type { Step } from '../../../corrections/corrections.ts';
import type { SheetStatement } from '../../../sheet/sheet.ts';
import { textOf, wordsWithin } from '../../../transcript/words-within.ts';
import type { CheckState } from '../../check-api.ts';
import type { Playing } from './playing.ts';
import type { PageActions } from './use-actions.ts';

/** How far past a statement's end a note may be drawn. */
const WORDS_BEYOND = 60;

/** Everything that was said; a statement can be chosen, narrowed to some of its words, and made a note. */
export function Transcript({
  state,
  playing,
  actions,
  decide,
}: {
  state: CheckState;
  playing: Playing;
  actions: PageActions;
  decide: (...steps: Step[]) => Promise<CheckState | null>;
}): VNode {
  const { statements, notes, words } = state.sheet;
  const [at, setAt] = useState(0);
  const [chosen, setChosen] = useState<string | null>(null);
  const ranks = new Map(notes.map((note) => [note.id, note.rank]));
  const focus = (to: number): void => {
    const next = Math.max(0, Math.min(statements.length - 1, to));
    setAt(next);
    document.querySelector<HTMLElement>(`[data-statement="${next}"]`)?.focus();
  };
  const onKeyDown = (event: KeyboardEvent): void => {
    if (!(event.target instanceof HTMLElement) || !event.target.dataset.statement) return;
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: statements.length - 1 }[event.key];
    if (to === undefined) return;
    event.preventDefault();
    focus(to);
  };
  const add = async (first: number, last: number, role: 'fix' | 'keep'): Promise<void> => {
    const [from, to] = [words[first], words[last]];
    if (!from || !to) return;
    const before = new Set(notes.map(({ id }) => id));
    const text = textOf(words, { first, last });
    const after = await decide({ do: 'add', words: { start: from.start, end: to.end, text }, role });
    setChosen(null);
    const added = after?.sheet.notes.find(({ id }) => !before.has(id));
    if (added) actions.go(added.id);
  };
  return (
    <details class="transcript" open>
      <summary>
        <h2>Everything that was said</h2>
      </summary>
      <p class="says">Choose a statement to make a note of it. The arrow keys go from one to the next.</p>
      <ol onKeyDown={onKeyDown}>
        {statements.map((statement, i) => (
          <li key={statement.id}>
            <button
              type="button"
              data-statement={i}
              tabIndex={i === at ? 0 : -1}
              aria-expanded={chosen === statement.id}
              onClick={() => {
                setAt(i);
                setChosen(chosen === statement.id ? null : statement.id);
              }}
            >
              <span class="stamp">{minutesStamp(statement.start)}</span> <span>{statement.text}</span>{' '}
              <span class="taken">
                {statement.note === null ? statement.role : `note ${ranks.get(statement.note) ?? ''}`}
              </span>
            </button>
            {chosen === statement.id && (
              <Chosen
                statement={statement}
                state={state}
                playing={playing}
                onAdd={(first, last, role) => void add(first, last, role)}
                onGo={() => statement.note && actions.go(statement.note)}
              />
            )}
          </li>
        ))}
      </ol>
    </details>
  );
}

function Chosen({
  statement,
  state,
  playing,
  onAdd,
  onGo,
}: {
  statement: SheetStatement;
  state: CheckState;
  playing: Playing;
  onAdd: (first: number, last: number, role: 'fix' | 'keep') => void;
  onGo: () => void;
}): VNode | null {
  const { words } = state.sheet;
  const range = wordsWithin(words, statement);
  const [ends, setEnds] = useState(range);
  if (!range || !ends) return null;
  // What was meant may go on in the statements after this one.
  const furthest = Math.min(words.length - 1, range.last + WORDS_BEYOND);
  const choice = (label: string, value: number, until: number, set: (value: number) => void): VNode => (
    <label>
      {label}{' '}
      <select value={value} onChange={({ currentTarget }) => set(Number(currentTarget.value))}>
        {words.slice(range.first, until + 1).map((word, i) => (
          <option key={word.start} value={range.first + i}>
            {i + 1}: {word.text}
          </option>
        ))}
      </select>
    </label>
  );
  return (
    <div class="chosen">
      {choice('from', ends.first, range.last, (first) =>
        setEnds({ first, last: Math.max(first, ends.last) }),
      )}
      {choice('to', ends.last, furthest, (last) => setEnds({ first: Math.min(ends.first, last), last }))}
      {!state.silent && (
        <button
          type="button"
          onClick={() =>
            playing.play({
              start: words[ends.first]?.start ?? statement.start,
              end: words[ends.last]?.end ?? statement.end,
            })
          }
        >
          Play
        </button>
      )}
      {statement.note === null ? (
        <>
          <button type="button" onClick={() => onAdd(ends.first, ends.last, 'fix')}>
            Add as a fix
          </button>
          <button type="button" onClick={() => onAdd(ends.first, ends.last, 'keep')}>
            Add as a keep
          </button>
        </>
      ) : (
        <button type="button" onClick={onGo}>
          Go to its note
        </button>
      )}
    </div>
  );
}
