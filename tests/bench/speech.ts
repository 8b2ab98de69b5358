/**
 * Measures speech recognition: `npx tsx tests/bench/speech.ts [MINUTES …]` (without minutes: 1 5 20 60).
 *
 * For each model that comes with critsheet: word error rate and word-time errors on the clips of tests/fixtures/speech;
 * then, for recordings made by repeating those clips with pauses, the real-time factor from file to transcript and the
 * peak memory, each in a fresh process.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { readRecording } from '../../src/recording/read-recording.ts';
import { openEngine } from '../../src/transcript/engines/open-engine.ts';
import { transcribe } from '../../src/transcript/transcribe.ts';
import { clips, SPEECH, spread, timeErrors } from './clips.ts';
import { spokenWords } from './spoken-words.ts';
import { addErrors, countErrors, wordErrorRate } from './word-error-rate.ts';

const MODELS = ['moonshine-base', 'moonshine-tiny'];
const GROUPS: readonly { name: string; files: RegExp }[] = [
  { name: 'audiobook (aligner times)', files: /^(librivox|lj)/ },
  { name: 'synthesiser (its own times)', files: /^synth/ },
  { name: 'read, hand timed', files: /^mahrt/ },
  { name: 'unscripted, hand timed', files: /^mfa/ },
  { name: 'numbers and commands', files: /^(num|riva)/ },
];
const MINUTES = [1, 5, 20, 60];
const RATE = 16000;
const PAUSE_SECONDS = 1.5;

const milliseconds = (seconds: number) => `${Math.round(seconds * 1000)} ms`;
const both = (errors: readonly number[]) => {
  const { mean, ninetieth } = spread(errors);
  return errors.length === 0 ? '-' : `${milliseconds(mean)}, ${milliseconds(ninetieth)}`;
};

async function accuracy(model: string): Promise<void> {
  console.log(`\n${model}\nclips | words | wrong | start: mean, 90th percentile | end`);
  for (const { name, files } of GROUPS) {
    const counts = [];
    const starts: number[] = [];
    const ends: number[] = [];
    for (const clip of clips(files)) {
      const { transcript } = await transcribe(clip.recording, { model });
      const heard = transcript.words.map((word) => word.text).join(' ');
      counts.push(countErrors(spokenWords(clip.text), spokenWords(heard)));
      const errors = timeErrors(clip.times ?? [], transcript.words);
      starts.push(...errors.starts);
      ends.push(...errors.ends);
    }
    const all = addErrors(counts);
    const wrong = `${(100 * wordErrorRate(all)).toFixed(1)} %`;
    console.log(`${name} | ${all.length} | ${wrong} | ${both(starts)} | ${both(ends)}`);
  }
}

/** A 16-bit WAV of so many minutes: the clips over and over, with pauses. */
function writeLong(path: string, minutes: number): void {
  const sounds = clips(/./, SPEECH).map(({ recording }) => recording.samples);
  const samples = Math.round(minutes * 60 * RATE);
  const bytes = Buffer.alloc(44 + samples * 2);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(36 + samples * 2, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(RATE, 24);
  bytes.writeUInt32LE(RATE * 2, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(samples * 2, 40);
  for (let at = 0, clip = 0; at < samples; clip++) {
    const sound = sounds[clip % sounds.length] ?? new Float32Array(RATE);
    for (const [index, value] of sound.entries()) {
      if (at + index >= samples) break;
      bytes.writeInt16LE(Math.round(value * 32767), 44 + (at + index) * 2);
    }
    at += sound.length + PAUSE_SECONDS * RATE;
  }
  writeFileSync(path, bytes);
}

/** What a fresh process measures: one whole run from file to transcript. */
async function speed(model: string, path: string): Promise<void> {
  const started = performance.now();
  const recording = await readRecording(path);
  const opened = performance.now();
  await (await openEngine(model)).close();
  const load = (performance.now() - opened) / 1000;
  const again = performance.now();
  const { transcript } = await transcribe(recording, { model });
  const seconds = (performance.now() - again + opened - started) / 1000;
  const peak = process.resourceUsage().maxRSS / 1024;
  const factor = (seconds / recording.duration).toFixed(3);
  const { user, system } = process.cpuUsage();
  const processor = ((user + system) / 1e6 / recording.duration).toFixed(3);
  console.log(
    `${(recording.duration / 60).toFixed(0)} min | loaded in ${load.toFixed(1)} s | ${seconds.toFixed(1)} s, real-time factor ${factor} | processor time ${processor} of the length | peak ${peak.toFixed(0)} MB | ${transcript.words.length} words`,
  );
}

const [first, ...rest] = process.argv.slice(2);
if (first === 'speed') {
  await speed(rest[0] ?? '', rest[1] ?? '');
} else {
  for (const model of MODELS) await accuracy(model);
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  const minutes = first ? [first, ...rest].map(Number) : MINUTES;
  for (const model of MODELS) {
    console.log(`\n${model}, from file to transcript`);
    for (const length of minutes) {
      const path = join(folder, `${length}.wav`);
      writeLong(path, length);
      const script = fileURLToPath(import.meta.url);
      execFileSync(process.execPath, ['--import', 'tsx', script, 'speed', model, path], { stdio: 'inherit' });
      rmSync(path);
    }
  }
  rmSync(folder, { recursive: true });
}
