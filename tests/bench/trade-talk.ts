import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Shot } from '../../src/basics/shot.ts';
import { readListenedWords } from '../../src/language/listened-words.ts';
import { type Critique, readCritiques } from '../../src/measure/critique.ts';
import { readRecording } from '../../src/recording/read-recording.ts';
import { SAMPLE_RATE } from '../../src/recording/recording.ts';
import { type Clip, recordingOf } from './clips.ts';
import { Chance } from './frames/chance.ts';
import { activeLevel, addAt } from './frames/sound.ts';
import { speakTo } from './speak-to.ts';
import { CONDITIONS, type Condition } from './spoken/conditions.ts';
import { asSaid } from './spoken/said.ts';
import { spokenWords } from './spoken-words.ts';

/** A statement of a critique, spoken, and the shot it is about. */
export interface TradeTalk extends Clip {
  readonly voice: string;
  readonly condition: Condition;
  readonly shot: Pick<Shot, 'characters' | 'dialogue'> | undefined;
}

interface TradeSet {
  readonly folders: readonly string[];
  /** Of each critique, at most. */
  readonly words: number;
  readonly voices: readonly string[];
  readonly conditions: readonly Condition[];
  /** Only every so many-th critique of the folders. */
  readonly every?: number;
  /** How many voices speak each statement, one after another. */
  readonly takes?: number;
}

const SPOILT: readonly Condition[] = [
  'clean',
  'room',
  'noise',
  'phone',
  'hum',
  'clipped',
  'quiet',
  'over the shot',
];

/**
 * Which critiques are spoken by whom, and through what. Weights were chosen on the first, changes tried on the second, a limit set by
 * the third; the last is for figures alone: neither its critiques nor its voices were used for anything else here, and
 * nobody reads what is misheard in it.
 */
export const TRADE_SETS: Readonly<Record<string, TradeSet>> = {
  chosen: {
    folders: ['dev'],
    words: 40,
    voices: ['slt', 'awb', 'kal16', 'espeak:en-us'],
    conditions: ['clean'],
  },
  spoilt: {
    folders: ['fit'],
    words: 30,
    voices: ['slt', 'rms', 'kal16', 'awb', 'espeak:en-us', 'kal', 'slt', 'rms'],
    conditions: SPOILT,
    every: 2,
  },
  reported: {
    folders: ['fit'],
    words: 36,
    voices: ['rms', 'kal', 'espeak:en-gb-x-rp+f2', 'espeak:en-gb-scotland+m7'],
    conditions: ['clean'],
  },
  held: {
    folders: ['held', 'practice'],
    words: 150,
    takes: 2,
    voices: [
      'festival:ked_diphone',
      'espeak:en-us-nyc+f3',
      'festival:cmu_us_slt_arctic_hts',
      'espeak:en-029+m3',
      'festival:ked_diphone',
      'espeak:en-gb-x-gbclan+f4',
      'festival:cmu_us_slt_arctic_hts',
      'espeak:en-gb-x-gbcwmd+m1',
    ],
    conditions: SPOILT,
  },
};

const CRITIQUES = join(import.meta.dirname, '..', 'critiques');
const PAUSE = 0.3 * SAMPLE_RATE;
const LEVEL = 0.08;
const FEWEST = 7;
const MOST = 34;
const LEAST_TRADE = 2;

/**
 * Speaks, of each critique of a set, the statements densest in the trade's words; needs Debian's flite and espeak-ng, and for
 * `held` festival with festvox-us-slt-hts and festvox-kdlpc16k. Voices and what is done to the sound change with every statement.
 */
export async function tradeTalk(set: string): Promise<TradeTalk[]> {
  const plan = TRADE_SETS[set];
  if (!plan) throw new Error(`there is no set ${set}: choose from ${Object.keys(TRADE_SETS).join(', ')}`);
  const trade = new Set(readListenedWords().filter((word) => !word.includes(' ')));
  const folder = mkdtempSync(join(tmpdir(), 'talk-'));
  const critiques = readCritiques(...plan.folders.map((name) => join(CRITIQUES, name)));
  const talks: TradeTalk[] = [];
  try {
    for (const [index, critique] of critiques.entries()) {
      if (index % (plan.every ?? 1) > 0) continue;
      let left = plan.words;
      for (const { say, count } of densest(critique.segments, trade)) {
        if (count > left) continue;
        left -= count;
        for (let take = 0; take < (plan.takes ?? 1); take++) {
          talks.push(await taken(say, critique, plan, talks, join(folder, 'said.wav')));
        }
      }
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
  return talks;
}

/** A statement in the next voice, through what comes next. */
async function taken(
  say: string,
  { name, shot }: Critique,
  { voices, conditions }: TradeSet,
  before: readonly TradeTalk[],
  path: string,
): Promise<TradeTalk> {
  const at = before.length;
  const chance = new Chance(at + 1);
  // Parted by the rounds that were made, so that each voice comes to each condition.
  const voice = voices[(at + Math.floor(at / conditions.length)) % voices.length] ?? '';
  const condition = conditions[at % conditions.length] ?? 'clean';
  const text = asSaid(say, chance);
  const said = await spoken(text, voice, path);
  const samples = Float32Array.from(CONDITIONS[condition](said, chance, () => babble(before.slice(-4))));
  const called = `${name}-${at}`;
  return {
    name: called,
    voice,
    condition,
    shot,
    text,
    times: null,
    recording: recordingOf(called, samples),
  };
}

function densest(segments: readonly { say: string }[], trade: ReadonlySet<string>) {
  return segments
    .map(({ say }) => {
      const words = spokenWords(say);
      return { say, count: words.length, trade: words.filter((word) => trade.has(word)).length };
    })
    .filter((one) => one.count >= FEWEST && one.count <= MOST && one.trade >= LEAST_TRADE)
    .sort((a, b) => b.trade / b.count - a.trade / a.count);
}

async function spoken(text: string, voice: string, path: string): Promise<Float32Array> {
  speakTo(path, voice, text);
  const { samples } = await readRecording(path);
  const all = new Float32Array(samples.length + 2 * PAUSE);
  addAt(all, samples, PAUSE, LEVEL / activeLevel(samples));
  return all;
}

/** Those who spoke before, at once. */
function babble(before: readonly TradeTalk[]): Float32Array {
  const length = Math.max(SAMPLE_RATE, ...before.map(({ recording }) => recording.samples.length));
  const out = new Float32Array(length);
  for (const { recording } of before) addAt(out, recording.samples, 0, 1 / activeLevel(recording.samples));
  return out;
}
