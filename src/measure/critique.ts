import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { parseRecord } from '../basics/json-record.ts';
import { PersonError } from '../basics/problem.ts';
import { type Shot, shotSchema } from '../basics/shot.ts';
import {
  AMOUNT_ACTIONS,
  AMOUNT_UNITS,
  BASES,
  ISSUES,
  PARTS,
  ROLES,
  SIDES,
  STRENGTHS,
} from '../basics/terms.ts';
import type { Transcript, Word } from '../transcript/transcript.ts';

const goldNoteSchema = z.looseObject({
  role: z.enum(['fix', 'keep']),
  withdrawn: z.boolean().default(false),
  character: z.string().nullable(),
  body: z.array(z.enum(PARTS)),
  side: z.enum(SIDES).nullable(),
  issue: z.enum(ISSUES),
  issue2: z.enum(ISSUES).optional(),
  basis: z.enum(BASES),
  strength: z.enum(STRENGTHS),
  frames: z.tuple([z.number(), z.number()]).nullable(),
  amount: z
    .looseObject({
      min: z.number(),
      max: z.number(),
      unit: z.enum(AMOUNT_UNITS),
      what: z.enum(AMOUNT_ACTIONS),
    })
    .nullable(),
  alternatives: z.number().default(0),
  tier: z.number(),
});
export type GoldNote = z.infer<typeof goldNoteSchema>;

const critiqueSchema = z.looseObject({
  name: z.string().min(1),
  fps: z.number().positive().max(240),
  // As strict as the shot schema, so that a fault is told of where the file is read.
  shot: z
    .looseObject({
      first: z.int(),
      last: z.int(),
      characters: z.array(z.looseObject({ name: z.string().min(1), words: z.array(z.string().min(1)) })),
      dialogue: z.array(z.string()),
    })
    .refine((shot) => shot.last >= shot.first, {
      error: 'the last frame comes before the first',
      path: ['last'],
    }),
  segments: z.array(
    z.looseObject({
      say: z.string().regex(/\S/, 'must hold words'),
      pause: z.number().nonnegative(),
      role: z.enum(ROLES),
      note: z.string().optional(),
    }),
  ),
  notes: z.record(z.string(), goldNoteSchema),
});
/** A labelled critique: what was said, breath by breath, and the notes a careful lead animator took from it. */
export type Critique = z.infer<typeof critiqueSchema>;

const KIND = {
  what: 'a labelled critique',
  advice: 'Mend it, or give a folder that holds labelled critiques alone.',
};

/**
 * Reads every .json of the folders, in the order of names.
 *
 * @throws PersonError where a folder is not there or holds none, or where a file is not a labelled critique; the message
 * names file and key.
 */
export function readCritiques(...folders: string[]): Critique[] {
  return folders.flatMap((folder) =>
    critiqueFiles(folder).map((file) => {
      const path = join(folder, file);
      return parseRecord(readFileSync(path, 'utf8'), path, critiqueSchema, KIND);
    }),
  );
}

function critiqueFiles(folder: string): string[] {
  const found = statSync(folder, { throwIfNoEntry: false });
  if (!found) throw new PersonError(`There is no folder ${folder}: check the name.`);
  if (!found.isDirectory())
    throw new PersonError(`${folder} is a file: give the folder that holds the critiques.`);
  const files = readdirSync(folder).filter((file) => file.endsWith('.json'));
  if (files.length === 0) {
    throw new PersonError(
      `${folder} holds no labelled critiques: give a folder with .json files of that kind.`,
    );
  }
  return files.sort();
}

/** The shot file of a critique. */
export function shotOf({ name, fps, shot }: Critique): Shot {
  const { first, last, characters, dialogue } = shot;
  return shotSchema.parse({
    name,
    fps,
    first,
    last,
    dialogue,
    characters: characters.map(({ name: called, words }) => ({ name: called, words })),
  });
}

/** Words a second at which written critiques are timed; about what mentors speak. */
const PACE = 2.7;
const SHORTEST_SEGMENT_SECONDS = 0.5;
const LEAD_IN_SECONDS = 0.5;

/** A critique as a transcript, and for each segment the words it holds, both ends included, and its times in seconds. */
export function spokenForm(critique: Critique): {
  transcript: Transcript;
  segments: { firstWord: number; lastWord: number; start: number; end: number }[];
} {
  const words: Word[] = [];
  const segments: { firstWord: number; lastWord: number; start: number; end: number }[] = [];
  let clock = LEAD_IN_SECONDS;
  for (const { say, pause } of critique.segments) {
    const texts = say.split(/\s+/).filter(Boolean);
    const seconds = Math.max(SHORTEST_SEGMENT_SECONDS, texts.length / PACE);
    const firstWord = words.length;
    texts.forEach((text, i) => {
      const start = clock + (seconds * i) / texts.length;
      words.push({ text, start, end: clock + (seconds * (i + 1)) / texts.length, confidence: 1 });
    });
    segments.push({ firstWord, lastWord: words.length - 1, start: clock, end: clock + seconds });
    clock += seconds + pause;
  }
  const transcript: Transcript = {
    schema: 'critsheet-transcript/1',
    recording: { file: `${critique.name}.json`, sha256: '', duration: clock },
    model: { id: 'script', sha256: null },
    words,
  };
  return { transcript, segments };
}
