import type { ComponentChildren, VNode } from 'preact';
import type { Note } from '../../../notes/note.ts';
import type { Sheet } from '../../sheet.ts';
import { askedBefore, askedMark } from '../asked.ts';
import {
  amountOfNote,
  faultOfNote,
  frameRange,
  framesOfNote,
  placeOfNote,
  weightOfNote,
} from '../wording.ts';
import type { Beside } from './beside.ts';
import { noteClass } from './exposure.tsx';
import { QuoteLine } from './quote.tsx';

/** One note of the ranked list, with everything that is known of it. */
export function NoteCard({ note, sheet, beside }: { note: Note; sheet: Sheet; beside: Beside }): VNode {
  const picture = beside.pictures.get(note.id);
  const again = askedMark(sheet.previous, note.id);
  const playable = beside.sound.kind !== 'none';
  const isDone = note.withdrawn || note.role === 'keep';
  return (
    <li
      class={`note ${noteClass(note)}`}
      id={note.id}
      data-rank={note.rank}
      data-frame={note.frames?.first}
      data-character={note.character ?? ''}
      data-parts={note.body.map(({ part }) => part).join(' ')}
      data-kind={note.issue ?? ''}
      data-title={note.title}
      data-at={note.spans[0]?.start}
      tabIndex={-1}
    >
      <div class="head">
        {isDone ? (
          <span class="rank">{note.rank}</span>
        ) : (
          <label class="tick">
            <span class="rank">{note.rank}</span>
            <input type="checkbox" data-tick={note.id} />
            <span class="unseen">Done: {note.title}</span>
          </label>
        )}
        <h3>{note.title}</h3>
        {again && <span class="again">{again}</span>}
        {note.frames && (
          <a class="frames" href={`#f${Math.round(note.frames.first)}`}>
            <span class="unseen">On the exposure sheet: frames </span>
            {frameRange(note)?.replace(' to ', '–')}
          </a>
        )}
      </div>
      {picture && <img src={picture} alt={`Frame ${Math.round(note.frames?.first ?? 0)} of the shot`} />}
      <Facts note={note} sheet={sheet} />
      {note.check.length > 0 && (
        <p class="unsure">
          <strong>Unsure:</strong> {note.check.join('; ')}
        </p>
      )}
      <ul class="words">
        {note.spans.map((quote) => (
          <QuoteLine key={quote.start} quote={quote} sheet={sheet} playable={playable} />
        ))}
      </ul>
    </li>
  );
}

function Facts({ note, sheet }: { note: Note; sheet: Sheet }): VNode {
  const isKeep = note.role === 'keep';
  return (
    <dl>
      <Fact name="Where">{placeOfNote(note)}</Fact>
      <Fact name={isKeep ? 'What' : 'Fault'}>{faultOfNote(note)}</Fact>
      <Fact name="Amount">{amountOfNote(note)}</Fact>
      <Fact name="Frames">{note.frames || !isKeep ? framesOfNote(note, sheet.shot) : null}</Fact>
      <Fact name="Meant">{isKeep ? null : weightOfNote(note)}</Fact>
      <Fact name="Asked for">{askedBefore(sheet.previous, note.id)}</Fact>
      <Fact name="Why here">{isKeep ? null : note.priority.reasons.join(', ') || null}</Fact>
      {note.options.length > 0 && (
        <Fact name="Ways out">
          <ul class="options">
            {note.options.map((option) => (
              <li key={option}>{option}</li>
            ))}
          </ul>
        </Fact>
      )}
    </dl>
  );
}

function Fact({ name, children }: { name: string; children: ComponentChildren }): VNode | null {
  if (children === null) return null;
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  );
}
