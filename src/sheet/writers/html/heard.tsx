import type { VNode } from 'preact';
import { counted } from '../../counted.ts';
import type { Sheet } from '../../sheet.ts';
import { QuoteLine } from './quote.tsx';

/** Everything that was said, in order, each with what it was taken for: nothing of the recording is missing. */
export function Heard({ sheet }: { sheet: Sheet }): VNode | null {
  if (sheet.statements.length === 0) return null;
  const ranks = new Map(sheet.notes.map((note) => [note.id, note.rank]));
  return (
    <details class="heard">
      <summary>
        <h2>Everything that was said</h2> {counted(sheet.words.length, 'word')} in{' '}
        {counted(sheet.statements.length, 'statement')}
      </summary>
      <ol>
        {sheet.statements.map((statement) => {
          const rank = statement.note === null ? undefined : ranks.get(statement.note);
          return (
            <li key={statement.id} class={`statement ${statement.role}`}>
              <span class="taken">
                {rank === undefined ? (
                  TAKEN_FOR[statement.role]
                ) : (
                  <a href={`#${statement.note}`}>note {rank}</a>
                )}
              </span>
              <ul>
                <QuoteLine quote={statement} sheet={sheet} playable={false} />
              </ul>
            </li>
          );
        })}
      </ol>
    </details>
  );
}

const TAKEN_FOR: Readonly<Record<Sheet['statements'][number]['role'], string>> = {
  fix: 'no note',
  keep: 'no note',
  why: 'a reason',
  aside: 'chatter',
  shot: 'the shot’s dialogue',
  drop: 'taken back',
};
