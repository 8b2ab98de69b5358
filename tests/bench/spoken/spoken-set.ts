import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Critique, readCritiques } from '../../../src/measure/critique.ts';
import { type Clip, recordingOf } from '../clips.ts';
import { Chance } from '../frames/chance.ts';
import { RATE } from '../frames/sound.ts';
import { readSamples, type TimedWord, wavBytes } from '../sound-files.ts';
import { CONDITIONS, type Condition } from './conditions.ts';
import { makeTalk, type TalkPlan } from './talks.ts';
import { type Voice, voicesHere } from './voices.ts';

const CRITIQUES = join(import.meta.dirname, '..', '..', 'critiques');
const DEVELOPED = ['practice', 'dev', 'fit'];
const TALK_SECONDS = 24;
/** The sources that a kept set was made by: when one changes, the set is made again. */
const MAKERS = ['conditions', 'laughter', 'said', 'spoken-set', 'talks', 'voices', 'word-phones'];

/** A spoken talk: a clip, and what it was made of. */
export interface SpokenTalk extends Clip {
  readonly condition: Condition;
  readonly voice: string;
  readonly critique: Critique;
}

export interface SpokenSetOptions {
  readonly seed?: number;
  /** Speaks the critiques nobody developed with: for a final figure only. */
  readonly held?: boolean;
  /** Where sets are kept; by default a folder of the machine's temporary one. */
  readonly folder?: string;
  readonly onTalk?: (done: number, of: number) => void;
}

/**
 * The spoken set: 24 s and more of a critique for each voice and condition, about 36 minutes in all with eight voices.
 * Made on first use and kept outside the checkout; the same seed, voices and sources give the same set, sample for sample.
 */
export function spokenSet(options: SpokenSetOptions = {}): SpokenTalk[] {
  const voices = voicesHere();
  if (voices.length < 6) {
    throw new Error("The spoken set wants six voices: install Debian's flite and espeak-ng (and festival).");
  }
  const folder = folderOf(options, voices);
  const plans = plansOf(options, voices);
  if (!existsSync(folder)) {
    mkdirSync(join(folder, '..'), { recursive: true });
    const making = mkdtempSync(`${folder}.`);
    plans.forEach((plan, index) => {
      const { samples, words, times } = makeTalk(plan, voices);
      const base = join(making, nameOf(plan, index));
      writeFileSync(`${base}.wav`, wavBytes(samples));
      writeFileSync(`${base}.json`, JSON.stringify({ words, times }));
      options.onTalk?.(index + 1, plans.length);
    });
    if (existsSync(folder)) rmSync(making, { recursive: true });
    else renameSync(making, folder);
  }
  return plans.map((plan, index) => readTalk(folder, plan, nameOf(plan, index)));
}

function readTalk(folder: string, plan: TalkPlan, name: string): SpokenTalk {
  const path = join(folder, name);
  const kept = JSON.parse(readFileSync(`${path}.json`, 'utf8')) as {
    words: string[];
    times: TimedWord[] | null;
  };
  let recording: Clip['recording'] | undefined;
  return {
    name,
    condition: plan.condition,
    voice: plan.voice.id,
    critique: plan.critique,
    text: kept.words.join(' '),
    times: kept.times,
    // Read when asked for: the whole set would fill 90 MB.
    get recording() {
      recording ??= recordingOf(`${name}.wav`, readSamples(`${path}.wav`));
      return recording;
    },
  };
}

function plansOf({ seed = 1, held = false }: SpokenSetOptions, voices: readonly Voice[]): TalkPlan[] {
  const chance = new Chance(seed);
  const critiques = readCritiques(...(held ? ['held'] : DEVELOPED).map((name) => join(CRITIQUES, name)));
  const order = critiques.map((critique) => ({ critique, key: chance.next() })).sort((a, b) => a.key - b.key);
  const conditions = Object.keys(CONDITIONS) as Condition[];
  return conditions.flatMap((condition, c) =>
    voices.map((voice, v): TalkPlan => {
      const { critique } = order[(c * voices.length + v) % order.length] ?? chance.one(order);
      // Somebody of another program, so that it is another person; one who tells times wherever the first does.
      const others = voices.filter(
        (other) => other !== voice && (other.program === 'flite' || !timed(voice)),
      );
      return {
        critique,
        from: Math.floor(chance.next() * Math.max(1, critique.segments.length - 12)),
        voice,
        other: chance.one(others),
        condition,
        seconds: TALK_SECONDS,
        seed: seed * 1000 + c * 100 + v,
      };
    }),
  );
}

function timed(voice: Voice): boolean {
  return voice.program !== 'espeak-ng';
}

function nameOf({ condition, voice }: TalkPlan, index: number): string {
  return `${String(index).padStart(3, '0')}-${condition.replaceAll(' ', '-')}-${voice.id}`;
}

function folderOf({ seed = 1, held = false, folder }: SpokenSetOptions, voices: readonly Voice[]): string {
  const made = createHash('sha256').update(voices.map((voice) => voice.id).join());
  for (const name of MAKERS) made.update(readFileSync(join(import.meta.dirname, `${name}.ts`)));
  const label = `${held ? 'held-' : ''}${seed}-${made.digest('hex').slice(0, 8)}`;
  return join(folder ?? join(tmpdir(), 'critsheet-spoken'), label);
}

/** Seconds of sound in a list of talks. */
export function secondsOf(talks: readonly Clip[]): number {
  return talks.reduce((sum, { recording }) => sum + recording.samples.length / RATE, 0);
}
