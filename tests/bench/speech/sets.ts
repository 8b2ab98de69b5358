import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readRecording } from '../../../src/recording/read-recording.ts';
import { type Clip, clips, SPEECH } from '../clips.ts';
import type { TimedWord } from '../sound-files.ts';
import { CONDITIONS } from '../spoken/conditions.ts';
import { spokenSet } from '../spoken/spoken-set.ts';

/** Clips that are measured together. */
export interface ClipSet {
  readonly name: string;
  readonly clips: readonly Clip[];
}

const PEOPLE = join(SPEECH, 'people');

/** Sets of people's speech, by the beginnings of the clips' names. */
const KINDS: readonly { name: string; files: RegExp }[] = [
  { name: 'people, audiobook', files: /^(librivox|lj|libri|quilter)/ },
  { name: 'people, read in a laboratory', files: /^mahrt/ },
  { name: 'people, unscripted', files: /^mfa|headset/ },
  { name: 'people, meetings', files: /^ami-E[NS]\w+$/ },
  { name: 'people, numbers and commands', files: /^(num|riva|weather|lamp|trade)/ },
  { name: 'people, telephone', files: /^ast8k/ },
];
const SYNTHESISED = { name: 'synthesiser, kept clips', files: /^synth/ };

/**
 * The sets of speech of which a part of the name ("people, meetings") begins with a word asked for; all where none is.
 * @param share 1 for everything, 0.25 for every fourth clip
 */
export async function speechSets(asked: readonly string[], share: number, held: boolean): Promise<ClipSet[]> {
  const wanted = (name: string) =>
    asked.length === 0 || asked.some((word) => name.split(', ').some((part) => part.startsWith(word)));
  const every = Math.max(1, Math.round(1 / share));
  const thinned = (all: readonly Clip[]) => all.filter((_, index) => index % every === 0);
  const sets: ClipSet[] = [];
  const fixtures = [...KINDS, SYNTHESISED].filter(({ name }) => wanted(name));
  if (fixtures.length > 0) {
    const all = [...clips(/./), ...(await people())];
    for (const { name, files } of fixtures) {
      sets.push({ name, clips: thinned(all.filter((clip) => files.test(clip.name))) });
    }
  }
  const conditions = Object.keys(CONDITIONS).filter((condition) => wanted(`spoken, ${condition}`));
  if (conditions.length > 0) {
    const talks = spokenSet({ held });
    for (const condition of conditions) {
      const own = talks.filter((talk) => talk.condition === condition);
      sets.push({ name: `spoken, ${condition}`, clips: thinned(own) });
    }
  }
  return sets;
}

/** The clips of people that are kept as FLAC. */
export async function people(): Promise<Clip[]> {
  const files = readdirSync(PEOPLE).filter((file) => file.endsWith('.flac'));
  return Promise.all(
    files.map(async (file) => {
      const name = file.slice(0, -'.flac'.length);
      const base = join(PEOPLE, name);
      const times = existsSync(`${base}.json`)
        ? (JSON.parse(readFileSync(`${base}.json`, 'utf8')) as TimedWord[])
        : null;
      const recording = await readRecording(`${base}.flac`);
      return { name, recording, text: readFileSync(`${base}.txt`, 'utf8'), times };
    }),
  );
}
