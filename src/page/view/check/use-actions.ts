import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { anchorOf } from '../../../corrections/find-note.ts';
import { type OtherReading, otherReadings } from '../../../corrections/readings.ts';
import type { Note } from '../../../notes/note.ts';
import type { Actions } from './keys.ts';
import type { Playing } from './playing.ts';
import type { Check } from './use-check.ts';

/** What can be done on the page, by key or by button. */
export interface PageActions {
  readonly note: Note | null;
  /** Ids of the notes that were gone through. */
  readonly done: ReadonlySet<string>;
  readonly helping: boolean;
  readonly joining: boolean;
  readonly setJoining: (on: boolean) => void;
  readonly byKey: Actions;
  readonly go: (id: string | null) => void;
  readonly take: (reading: OtherReading) => void;
  readonly joinWith: (other: Note) => void;
}

/** Where the person is in the queue, and every action there. */
export function useActions(check: Check, playing: Playing): PageActions {
  const { state, decide, say } = check;
  const [current, setCurrent] = useState<string | null | undefined>(undefined);
  const [done, setDone] = useState<ReadonlySet<string>>(new Set());
  const [helping, setHelping] = useState(false);
  const [joining, setJoining] = useState(false);
  const isMoving = useRef(false);
  const notes = state?.sheet.notes ?? [];
  const queue = (state?.queue ?? []).filter((id) => !done.has(id));
  const id = current === undefined ? (queue[0] ?? null) : current;
  const note = notes.find((one) => one.id === id) ?? null;

  // A note that another page dropped, or that was joined to another, is not there to be looked at any more.
  useEffect(() => {
    if (state && id !== null && !note) setCurrent(queue[0] ?? null);
  }, [state, id, note, queue]);

  // What is shown first is chosen once: deciding about a note takes it out of the queue, and must not take it away.
  useEffect(() => {
    if (state && current === undefined) setCurrent(state.queue[0] ?? null);
  }, [state, current]);

  const go = (to: string | null): void => {
    playing.stop();
    isMoving.current = true;
    setJoining(false);
    setCurrent(to);
  };
  // The new note's heading takes the focus, so that a screen reader says it and keys act on it.
  useLayoutEffect(() => {
    if (!isMoving.current) return;
    isMoving.current = false;
    document.getElementById('current')?.focus();
  }, [id]);
  const leave = (without: readonly string[] = []): void => {
    const rest = queue.filter((one) => one !== id && !without.includes(one));
    const at = id === null ? -1 : queue.indexOf(id);
    setDone(new Set([...done, ...(id === null ? [] : [id])]));
    go(queue.slice(at + 1).find((one) => rest.includes(one)) ?? rest[0] ?? null);
  };
  const onNote = (act: (note: Note) => void): (() => void) => {
    return () => {
      if (note) act(note);
      else say('There is no note here. Choose one from the list.');
    };
  };
  const step = (by: number): void => {
    const all = state?.queue.length ? state.queue : notes.map((one) => one.id);
    const at = id === null ? (by > 0 ? -1 : all.length) : all.indexOf(id);
    const to = all[at + by];
    if (to) go(to);
    else say(by > 0 ? 'This is the last one.' : 'This is the first one.');
  };
  const drop = (one: Note): void => {
    void decide({ do: 'drop', note: anchorOf(one) });
    leave();
  };
  const take = (reading: OtherReading): void => {
    if (!note) return;
    if (reading.fields === 'drop') drop(note);
    else void decide({ do: 'set', note: anchorOf(note), fields: reading.fields });
  };
  const focusWord = (says: string): void => {
    const words = [...document.querySelectorAll<HTMLElement>('.heard-words [data-word]')];
    (words.find((word) => word.classList.contains('faint')) ?? words[0])?.focus();
    say(says);
  };
  const focusedWord = (): number | null => {
    const word = document.activeElement?.closest<HTMLElement>('.heard-words [data-word]')?.dataset.word;
    return word === undefined ? null : Number(word);
  };

  const byKey: Actions = {
    right: onNote((one) => {
      if (one.check.length > 0) void decide({ do: 'settle', note: anchorOf(one) });
      leave();
    }),
    reading: (number) => {
      const reading = note ? otherReadings(note)[number - 1] : undefined;
      if (reading) take(reading);
      else say(`There is no reading ${number}.`);
    },
    play: onNote((one) => {
      if (playing.playing) playing.stop();
      else if (state?.silent) say(`No sound. ${state.silent}`);
      else playing.play(...one.spans);
    }),
    next: () => step(1),
    previous: () => step(-1),
    edit: () =>
      document
        .querySelector<HTMLElement>('.understood .asked :is(select, input), .understood input')
        ?.focus(),
    turn: onNote((one) => {
      void decide({
        do: 'set',
        note: anchorOf(one),
        fields: { role: one.role === 'keep' ? 'fix' : 'keep' },
      });
    }),
    drop: onNote(drop),
    word: onNote(() => focusWord('Choose the word with the arrow keys, then press W to change it.')),
    split: onNote((one) => {
      const word = focusedWord();
      const from = word === null ? undefined : state?.sheet.words[word]?.start;
      if (from === undefined) {
        focusWord('Choose the word that begins the second note with the arrow keys, then press S.');
        return;
      }
      void decide({ do: 'split', note: anchorOf(one), from });
    }),
    join: onNote(() => setJoining(true)),
    add: () => document.querySelector<HTMLElement>('.transcript [data-statement][tabindex="0"]')?.focus(),
    undo: () => void check.undo(),
    help: () => setHelping(!helping),
    escape: () => {
      playing.stop();
      setJoining(false);
    },
  };
  const joinWith = (other: Note): void => {
    if (!note) return;
    setJoining(false);
    void decide({ do: 'join', note: anchorOf(note), with: anchorOf(other) });
    document.getElementById('current')?.focus();
  };
  return { note, done, helping, joining, setJoining, byKey, go, take, joinWith };
}
