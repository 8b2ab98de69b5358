import { describe, expect, it } from 'vitest';
import { loadLanguage } from '../../src/language/language.ts';
import { findNotes } from '../../src/notes/find-notes.ts';
import { findStatements } from '../../src/statements/find-statements.ts';
import { transcriptSchema } from '../../src/transcript/transcript.ts';
import { said } from '../language/said.ts';
import { FROM_1 } from './read.ts';

const language = loadLanguage();

function notesOf(...breaths: string[]) {
  const words = said(...breaths).map((word) => ({ ...word, confidence: 1 }));
  const transcript = transcriptSchema.parse({
    schema: 'critsheet-transcript/1',
    recording: { file: 'talk.wav', sha256: 'f'.repeat(64), duration: words.at(-1)?.end ?? 0 },
    model: { id: 'hand-made', sha256: null },
    words,
  });
  const statements = findStatements(transcript, FROM_1, language);
  return findNotes(transcript, statements, FROM_1, language).notes;
}
const about = (notes: ReturnType<typeof notesOf>, words: RegExp) =>
  notes.filter(({ spans }) => spans.some(({ text }) => words.test(text)));

describe('two faults said one straight after the other', () => {
  const notes = notesOf(
    'The ears. On frame 66 they both go forward together, same frame, like a pair of wipers.',
    'Push the right one three frames back.',
    'Then the left foot. From frame 80 to 92 it slides along the floor.',
    'Lock it down until he takes the step.',
  );

  it('make two notes, each with its own frames', () => {
    const [ears] = about(notes, /wipers/);
    const [foot] = about(notes, /slides/);
    expect(ears?.id).not.toBe(foot?.id);
    expect(ears?.frames).toMatchObject({ first: 66, last: 66 });
    expect(foot?.frames).toMatchObject({ first: 80, last: 92 });
  });

  it('and each with what was asked for', () => {
    expect(about(notes, /wipers/)[0]?.amount).toMatchObject({ min: 3, max: 3, unit: 'frames' });
    expect(about(notes, /Lock it down/)).toEqual(about(notes, /slides/));
  });
});

describe('a point that is come back to', () => {
  it('stays one note', () => {
    const notes = notesOf(
      'His left foot is sliding between frame 30 and frame 44, it has to be locked to the ground.',
      'Next, the scarf. It stops dead with the chest on 60, let it drag two frames behind.',
      'The turn of the head is lovely, keep that.',
      'And again, that left foot, sliding like on ice, please lock it.',
    );
    const feet = about(notes, /left foot/);
    expect(feet).toHaveLength(1);
    expect(feet[0]?.mentions).toBe(2);
  });
});

describe('what is taken back', () => {
  it('stands last, and nothing else is lost to it', () => {
    const notes = notesOf(
      'The scarf stops dead with the chest on 60, let it drag two frames behind.',
      'Then the lantern. I would make it swing higher, it hardly moves.',
      'His left foot is sliding between frame 30 and frame 44, lock it to the ground.',
      'The lantern, you know what, forget what I said about the lantern, it is fine as it is, leave it.',
    );
    expect(about(notes, /swing higher/)[0]?.withdrawn).toBe(true);
    expect(notes.filter((note) => note.withdrawn)).toHaveLength(1);
  });
});
