import { SAMPLE_RATE } from '../../../src/recording/recording.ts';
import type { ListenFor } from '../../../src/transcript/glossary/listen-for.ts';
import { transcribe } from '../../../src/transcript/transcribe.ts';
import type { Word } from '../../../src/transcript/transcript.ts';
import { type Clip, recordingOf, spread, timeErrors } from '../clips.ts';
import { scoredWords, withCompounds } from '../scored-words.ts';
import { addErrors, countErrors, type ErrorCount, wordErrorRate } from '../word-error-rate.ts';
import type { ClipSet } from './sets.ts';

/** More than the longest pause inside a region, so that no region holds two clips. */
const APART_SECONDS = 4;

/** What was heard of one clip, times from the clip's own start. */
export interface HeardClip {
  readonly clip: Clip;
  readonly words: readonly Word[];
}

/** Recognises all clips in one run, as one recording with silence between them, so that the model is loaded once. */
export async function hearClips(
  clips: readonly Clip[],
  model: string,
  listenFor?: ListenFor,
): Promise<HeardClip[]> {
  const gap = APART_SECONDS * SAMPLE_RATE;
  const starts: number[] = [];
  let length = 0;
  for (const { recording } of clips) {
    starts.push(length);
    length += recording.samples.length + gap;
  }
  const samples = new Float32Array(length);
  clips.forEach(({ recording }, i) => {
    samples.set(recording.samples, starts[i] ?? 0);
  });
  const { transcript } = await transcribe(recordingOf('clips.wav', samples), { model, listenFor });
  return clips.map((clip, i) => {
    const from = (starts[i] ?? 0) / SAMPLE_RATE;
    const to = (starts[i + 1] ?? length) / SAMPLE_RATE;
    const own = transcript.words.filter((word) => word.start >= from - 0.5 && word.start < to - 0.5);
    return { clip, words: own.map((word) => ({ ...word, start: word.start - from, end: word.end - from })) };
  });
}

/** The word errors of what was heard. */
export function errorsOf({ clip, words }: HeardClip): ErrorCount {
  const plain = (texts: readonly string[]) => scoredWords(texts).map((word) => word.text);
  const truth = plain(clip.text.split(/\s+/));
  const heard = plain(words.map((word) => word.text));
  return countErrors(withCompounds(truth, heard), withCompounds(heard, truth));
}

const HEAD =
  'set | minutes | words | wrong | changed, lost, added | starts: mean, 90th percentile | ends | real-time factor, processor time by length';

/** Prints one line for each set. */
export async function printAccuracy(
  sets: readonly ClipSet[],
  model: string,
  listenFor: ListenFor,
): Promise<void> {
  console.log(`\n${model}\n${HEAD}`);
  const everything: ErrorCount[] = [];
  for (const { name, clips } of sets) {
    const minutes = clips.reduce((sum, { recording }) => sum + recording.duration, 0) / 60;
    const began = performance.now();
    const before = process.cpuUsage();
    const heard = await hearClips(clips, model, listenFor);
    const factor = (performance.now() - began) / 60_000 / minutes;
    const used = process.cpuUsage(before);
    const all = addErrors(heard.map(errorsOf));
    everything.push(all);
    const times = heard.map(({ clip, words }) => timeErrors(clip.times ?? [], words));
    console.log(
      [
        name,
        minutes.toFixed(1),
        ...lineOf(all),
        both(times.flatMap(({ starts }) => starts)),
        both(times.flatMap(({ ends }) => ends)),
        `${factor.toFixed(3)}, ${((used.user + used.system) / 6e7 / minutes).toFixed(3)}`,
      ].join(' | '),
    );
  }
  if (sets.length > 1) console.log(['all', '', ...lineOf(addErrors(everything))].join(' | '));
}

function lineOf(all: ErrorCount): string[] {
  const wrong = `${(100 * wordErrorRate(all)).toFixed(1)} %`;
  return [String(all.length), wrong, `${all.substitutions}, ${all.deletions}, ${all.insertions}`];
}

function both(errors: readonly number[]): string {
  const { mean, ninetieth } = spread(errors);
  const milliseconds = (seconds: number) => Math.round(seconds * 1000);
  return errors.length === 0
    ? '-'
    : `${milliseconds(mean)}, ${milliseconds(ninetieth)} ms (${errors.length})`;
}
