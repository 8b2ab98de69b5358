import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Shot } from '../../src/basics/shot.ts';
import { readListenedWords } from '../../src/language/listened-words.ts';
import { readCritiques } from '../../src/measure/critique.ts';
import { readRecording } from '../../src/recording/read-recording.ts';
import { SAMPLE_RATE } from '../../src/recording/recording.ts';
import { type Clip, recordingOf } from './clips.ts';
import { spokenWords } from './spoken-words.ts';

/** A statement of a critique, spoken, and the shot it is about. */
export interface TradeTalk extends Clip {
  readonly voice: string;
  readonly shot: Pick<Shot, 'characters' | 'dialogue'> | undefined;
}

/** Which critiques are spoken by whom: the weights were chosen on the first and are reported on the second. */
export const TRADE_SETS: Readonly<
  Record<string, { folder: string; words: number; voices: readonly string[] }>
> = {
  chosen: { folder: 'dev', words: 40, voices: ['slt', 'awb', 'kal16', 'espeak:en-us'] },
  reported: {
    folder: 'fit',
    words: 36,
    voices: ['rms', 'kal', 'espeak:en-gb-x-rp+f2', 'espeak:en-gb-scotland+m7'],
  },
};

const CRITIQUES = join(import.meta.dirname, '..', 'critiques');
const PAUSE = new Float32Array(0.3 * SAMPLE_RATE);
const FEWEST = 7;
const MOST = 34;
const LEAST_TRADE = 2;

/**
 * Speaks, of each critique of a set, the statements densest in the trade's words; needs Debian's flite and espeak-ng. One voice a
 * critique, in turn.
 */
export async function tradeTalk(set: string): Promise<TradeTalk[]> {
  const plan = TRADE_SETS[set];
  if (!plan) throw new Error(`there is no set ${set}: choose from ${Object.keys(TRADE_SETS).join(', ')}`);
  const trade = new Set(readListenedWords().filter((word) => !word.includes(' ')));
  const folder = mkdtempSync(join(tmpdir(), 'talk-'));
  const talks: TradeTalk[] = [];
  try {
    for (const [index, critique] of readCritiques(join(CRITIQUES, plan.folder)).entries()) {
      const voice = plan.voices[index % plan.voices.length] ?? '';
      let left = plan.words;
      for (const { say, count } of densest(critique.segments, trade)) {
        if (count > left) continue;
        left -= count;
        const name = `${critique.name}-${talks.length}`;
        const samples = await spoken(say, voice, join(folder, 'said.wav'));
        talks.push({
          name,
          voice,
          shot: critique.shot,
          text: say,
          times: null,
          recording: recordingOf(name, samples),
        });
      }
    }
  } finally {
    rmSync(folder, { recursive: true });
  }
  return talks;
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
  const own = voice.replace('espeak:', '');
  if (own === voice) execFileSync('flite', ['-voice', voice, '-t', text, '-o', path]);
  else execFileSync('espeak-ng', ['-v', own, '-s', '150', '-w', path, text]);
  const { samples } = await readRecording(path);
  const all = new Float32Array(samples.length + 2 * PAUSE.length);
  all.set(samples, PAUSE.length);
  return all;
}
