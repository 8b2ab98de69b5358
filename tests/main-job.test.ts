import { copyFileSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { shotSchema } from '../src/basics/shot.ts';
import { fMeasure, share } from '../src/measure/agreement.ts';
import { type Answer, alignNotes } from '../src/measure/align.ts';
import { answeredNotes } from '../src/measure/answered.ts';
import { countNotes } from '../src/measure/counts.ts';
import { readCritiques } from '../src/measure/critique.ts';
import { readCritique } from '../src/pipeline.ts';
import { nodeAvDecoder } from '../src/recording/decoders/node-av.ts';
import { findSoundFile } from '../src/recording/sound-file.ts';
import type { Sheet } from '../src/sheet/sheet.ts';
import { ownFolder } from './recording/sounds.ts';

// The whole path on real sound with the real speech model: slow, half a minute a recording or more.
const SLOW_MILLISECONDS = 600_000;
const SAMPLES = join(import.meta.dirname, '..', 'samples');
const timesSchema = z.array(z.looseObject({ start: z.number(), end: z.number() }));

const { folder } = ownFolder();

const shotOfSample = (sample: string) =>
  shotSchema.parse(JSON.parse(readFileSync(join(SAMPLES, sample, 'shot.json'), 'utf8')));

/** Holds a sheet against what its sample says it should hold. */
function compare(sample: string, sheet: Sheet) {
  // The reader of critiques wants a folder that holds nothing else.
  copyFileSync(join(SAMPLES, sample, 'script.json'), join(folder, `${sample}.json`));
  const critique = readCritiques(folder).find(({ name }) => name === sample);
  if (!critique) throw new Error(`no script of ${sample}`);
  const times = timesSchema.parse(JSON.parse(readFileSync(join(SAMPLES, sample, 'segments.json'), 'utf8')));
  const answer: Answer = { critique, times, statements: [], notes: sheet.notes };
  const alignment = alignNotes(answer);
  const answered = answeredNotes(alignment);
  const counts = countNotes(answer, alignment, answered);
  const rightIn = (tag: 'body' | 'frames' | 'issue'): number =>
    share(
      answered.filter(({ verdicts }) => verdicts[tag]).length,
      answered.filter(({ verdicts }) => verdicts[tag] !== null).length,
    ) ?? 0;
  const figures = {
    noteF: fMeasure(counts.found, counts.given, counts.gold),
    bodyF: fMeasure(counts.partsFound, counts.partsGiven, counts.partsGold),
    bodyWhole: rightIn('body'),
    frames: rightIn('frames'),
    issue: rightIn('issue'),
  };
  // What a person would want to see where a bound is missed.
  const report = [
    JSON.stringify({ sample, ...figures, gold: counts.gold, given: counts.given, found: counts.found }),
    ...alignment.gold.map((gold) => {
      const note = alignment.noteOf.get(gold);
      const given =
        note && `${note.withdrawn ? 'taken back: ' : ''}${note.title} ${JSON.stringify(note.frames)}`;
      const { body, issue, frames, withdrawn } = gold.label;
      return `${gold.id} ${JSON.stringify({ body, issue, frames, withdrawn })} -> ${given ?? 'nothing'}`;
    }),
    ...sheet.notes
      .filter((note) => !alignment.goldOf.has(note))
      .map((note) => `unasked: ${note.title}: ${note.spans[0]?.text}`),
  ].join('\n');
  return { critique, alignment, figures, report };
}

const sound = await nodeAvDecoder.decode(
  await findSoundFile(join(SAMPLES, 'puppet-audition', 'recording.mp3')),
  {},
);
const withoutMp3 = 'refused' in sound ? sound.because : null;
if (withoutMp3) console.warn(`puppet-audition is left out: ${withoutMp3}`);

const RECORDINGS = [
  { sample: 'ferry-rope', file: 'recording.wav', skip: false },
  { sample: 'puppet-audition', file: 'recording.mp3', skip: withoutMp3 !== null },
];

describe.each(RECORDINGS)('the recording of $sample', ({ sample, file, skip }) => {
  it.skipIf(skip)(
    'becomes the sheet a careful lead would write',
    { timeout: SLOW_MILLISECONDS },
    async () => {
      const { sheet } = await readCritique(join(SAMPLES, sample, file), { shot: shotOfSample(sample) });
      const { alignment, figures, report } = compare(sample, sheet);
      // A little under what was measured when the test was written: notes 0.89 and 0.78, parts 0.63 and 0.60 (each part
      // counted; whole lists of parts were right in 0.25 and 0.44 of the notes), frames 0.63 and 0.89.
      expect(figures.noteF, report).toBeGreaterThanOrEqual(0.7);
      expect(figures.bodyF, report).toBeGreaterThanOrEqual(0.55);
      expect(figures.frames, report).toBeGreaterThanOrEqual(0.6);

      const takenBack = alignment.gold.filter(({ label }) => label.withdrawn);
      expect(takenBack, report).not.toEqual([]);
      for (const gold of takenBack) {
        const note = alignment.noteOf.get(gold);
        expect(note?.withdrawn ?? true, report).toBe(true);
      }

      const places = sheet.notes.map(({ role, withdrawn }) => (withdrawn ? 'withdrawn' : role));
      const order = ['fix', 'keep', 'withdrawn'];
      expect(places, report).toEqual([...places].sort((a, b) => order.indexOf(a) - order.indexOf(b)));
      expect(new Set(places), report).toEqual(new Set(order));

      const said = sheet.words.map(({ text }) => text).join(' ');
      for (const { text } of sheet.notes.flatMap(({ spans }) => spans)) expect(said).toContain(text);
      const { first, last } = sheet.shot;
      for (const { frames } of sheet.notes) {
        if (!frames) continue;
        expect(frames.first).toBeGreaterThanOrEqual(first);
        expect(frames.last).toBeLessThanOrEqual(last ?? Number.POSITIVE_INFINITY);
      }
    },
  );
});
