import type { VNode } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { anchorOf } from '../../../corrections/find-note.ts';
import { otherReadings } from '../../../corrections/readings.ts';
import type { Note } from '../../../notes/note.ts';
import { sheetInShort } from '../../../sheet/sort-notes.ts';
import { askedBefore } from '../../../sheet/writers/asked.ts';
import {
  amountOfNote,
  faultOfNote,
  frameRange,
  placeOfNote,
  weightOfNote,
} from '../../../sheet/writers/wording.ts';
import type { CheckState } from '../../check-api.ts';
import { HeardWords } from './heard.tsx';
import { Key } from './key.tsx';
import type { KeyName } from './keys.ts';
import type { Playing } from './playing.ts';
import { Understood } from './understood.tsx';
import type { PageActions } from './use-actions.ts';
import type { Check } from './use-check.ts';

/** One note: what was heard, what was understood and why, and everything that can be done about it. */
export function NoteCard({
  note,
  state,
  check,
  playing,
  actions,
  keysOn,
}: {
  note: Note;
  state: CheckState;
  check: Check;
  playing: Playing;
  actions: PageActions;
  keysOn: boolean;
}): VNode {
  const { words, shot } = state.sheet;
  const { byKey } = actions;
  const again = askedBefore(state.sheet.previous, note.id);
  const act = (name: Exclude<KeyName, 'reading'>, label: string): VNode => (
    <button type="button" onClick={byKey[name]}>
      {label} {keysOn && <Key name={name} />}
    </button>
  );
  return (
    <article class={`card ${note.role}`} aria-labelledby="current">
      <h2 id="current" tabIndex={-1}>
        <span class="rank">{note.rank}</span> <span>{note.title}</span>
        {note.withdrawn && <span class="unseen"> (taken back)</span>}
      </h2>
      <p class="reads">
        {[
          placeOfNote(note),
          faultOfNote(note),
          amountOfNote(note),
          frameRange(note) && `frames ${frameRange(note)}`,
          weightOfNote(note),
        ]
          .filter(Boolean)
          .join(' · ')}
      </p>
      {again && (
        <p class="again">
          Asked for <b>{again}</b>
        </p>
      )}
      {note.check.length > 0 ? (
        <ul class="asks">
          {note.check.map((entry) => (
            <li key={entry}>{entry}</li>
          ))}
        </ul>
      ) : (
        <p class="asks">Nothing here is uncertain.</p>
      )}
      <section aria-label="What was heard">
        <h3>
          Heard{' '}
          {!state.silent && (
            <button type="button" onClick={byKey.play}>
              {playing.playing ? 'Stop' : 'Play'} {keysOn && <Key name="play" />}
            </button>
          )}
        </h3>
        {playing.fault && (
          <p class="fault" role="alert">
            {playing.fault}
          </p>
        )}
        <HeardWords
          note={note}
          words={words}
          playing={playing}
          silent={state.silent !== null}
          onFix={(at, text) => {
            const word = words[at];
            if (word)
              void check.decide({
                do: 'word',
                word: { start: word.start, end: word.end, text: word.text },
                text,
              });
          }}
        />
      </section>
      <section aria-label="Other readings">
        <h3>Or rather</h3>
        <ol class="readings">
          {otherReadings(note).map((reading, i) => (
            <li key={reading.says}>
              <button type="button" onClick={() => actions.take(reading)}>
                {keysOn && <kbd>{i + 1}</kbd>} {reading.says}
              </button>
            </li>
          ))}
        </ol>
      </section>
      <div class="acts">
        <button type="button" class="right" onClick={byKey.right}>
          Right as it is {keysOn && <Key name="right" />}
        </button>
        {act('previous', 'Back')}
        {act('next', 'Skip')}
        {act('turn', note.role === 'keep' ? 'Make it a fix' : 'Make it a keep')}
        {act('drop', 'No note')}
        {act('word', 'Fix a word')}
        {act('split', 'Split')}
        {act('join', 'Join')}
        {act('add', 'Add a missed note')}
      </div>
      {actions.joining && <JoinWith note={note} state={state} actions={actions} />}
      <section aria-label="What was understood">
        <h3>Understood {keysOn && <Key name="edit" />}</h3>
        <p class="says">
          Ranked {note.rank} because: {note.priority.reasons.join(', ') || 'no reason was told'}. Said{' '}
          {note.mentions === 1 ? 'once' : `${note.mentions} times`}.
        </p>
        <Understood
          note={note}
          shot={shot}
          onSet={(fields) => void check.decide({ do: 'set', note: anchorOf(note), fields })}
        />
      </section>
    </article>
  );
}

function JoinWith({ note, state, actions }: { note: Note; state: CheckState; actions: PageActions }): VNode {
  const others = state.sheet.notes.filter(({ id }) => id !== note.id).sort((a, b) => a.rank - b.rank);
  const choice = useRef<HTMLSelectElement>(null);
  useLayoutEffect(() => choice.current?.focus(), []);
  return (
    <form
      class="join"
      onSubmit={(event) => {
        event.preventDefault();
        const chosen = new FormData(event.currentTarget).get('other');
        const other = others.find(({ id }) => id === chosen);
        if (other) actions.joinWith(other);
      }}
    >
      <label>
        Join with{' '}
        <select ref={choice} id="join-with" name="other">
          {others.map((other) => (
            <option key={other.id} value={other.id}>
              {other.rank}: {other.title}
            </option>
          ))}
        </select>
      </label>
      <button type="submit">Join</button>
      <button type="button" onClick={() => actions.setJoining(false)}>
        Leave it
      </button>
    </form>
  );
}

/** What stands where nothing is left to look at. */
export function Finished({ state, actions }: { state: CheckState; actions: PageActions }): VNode {
  const skipped = state.queue.length;
  return (
    <article class="card" aria-labelledby="current">
      <h2 id="current" tabIndex={-1}>
        {skipped === 0 ? 'Nothing is left to look at' : 'You have been through everything'}
      </h2>
      <p>{sheetInShort(state.sheet)}</p>
      {skipped > 0 && (
        <p>
          <button type="button" onClick={() => actions.go(state.queue[0] ?? null)}>
            Go through the {skipped} that are still uncertain
          </button>
        </p>
      )}
      <p>Close this page, or press Finish. Any note can be changed: choose it in the list of all notes.</p>
    </article>
  );
}
