import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Recording } from '../../src/recording/recording.ts';
import { SAMPLE_RATE } from '../../src/recording/recording.ts';
import type { Word } from '../../src/transcript/transcript.ts';
import { scoredWords } from './scored-words.ts';
import { readSamples, type TimedWord } from './sound-files.ts';
import { lineUp } from './word-error-rate.ts';

export { readSamples, type TimedWord };

export const SPEECH = join(import.meta.dirname, '..', 'fixtures', 'speech');

/** A clip of tests/fixtures/speech: its sound, what is said, and where known when. */
export interface Clip {
  readonly name: string;
  readonly recording: Recording;
  readonly text: string;
  readonly times: readonly TimedWord[] | null;
}

export function recordingOf(file: string, samples: Float32Array): Recording {
  return { file, sha256: '0'.repeat(64), duration: samples.length / SAMPLE_RATE, samples, problems: [] };
}

/** The clips whose names fit. */
export function clips(names: RegExp, folder: string = SPEECH): Clip[] {
  return readdirSync(folder)
    .filter((file) => file.endsWith('.wav') && names.test(file))
    .map((file) => {
      const base = join(folder, file.slice(0, -'.wav'.length));
      const times = existsSync(`${base}.json`)
        ? (JSON.parse(readFileSync(`${base}.json`, 'utf8')) as TimedWord[])
        : null;
      return {
        name: file.slice(0, -'.wav'.length),
        recording: recordingOf(file, readSamples(`${base}.wav`)),
        text: readFileSync(`${base}.txt`, 'utf8'),
        times,
      };
    });
}

/** How far the heard words' starts and ends lie from the truth, in seconds, for the words that were heard right. */
export function timeErrors(
  truth: readonly TimedWord[],
  heard: readonly Word[],
): { starts: number[]; ends: number[] } {
  const starts: number[] = [];
  const ends: number[] = [];
  const said = scoredWords(truth.map(({ word }) => word));
  const written = scoredWords(heard.map(({ text }) => text));
  for (const match of lineUp(
    said.map((word) => word.text),
    written.map((word) => word.text),
  )) {
    const left = match.truth === null ? undefined : said[match.truth];
    const right = match.heard === null ? undefined : written[match.heard];
    if (!left || !right || left.text !== right.text) continue;
    const [first, last] = [truth[left.first], truth[left.last]];
    const [heardFirst, heardLast] = [heard[right.first], heard[right.last]];
    // A number is one heard word and several true ones, or the other way round: it has one start and one end.
    if (left.begins && right.begins && first && heardFirst) starts.push(heardFirst.start - first.start);
    // Festival tells no end of some words with "'s".
    if (left.ends && right.ends && last && heardLast && last.end > last.start)
      ends.push(heardLast.end - last.end);
  }
  return { starts, ends };
}

/** Mean and 90th percentile of the sizes of errors. */
export function spread(errors: readonly number[]): { mean: number; ninetieth: number } {
  const sizes = errors.map(Math.abs).sort((a, b) => a - b);
  const mean = sizes.reduce((sum, size) => sum + size, 0) / Math.max(1, sizes.length);
  return { mean, ninetieth: sizes[Math.floor(sizes.length * 0.9)] ?? 0 };
}
