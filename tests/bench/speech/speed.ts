/** `tsx tests/bench/speech/speed.ts MODEL FILE [plain]` measures one run in its own process; `printSpeed` starts those. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { readListenedWords } from '../../../src/language/listened-words.ts';
import { readRecording } from '../../../src/recording/read-recording.ts';
import { openEngine } from '../../../src/transcript/engines/open-engine.ts';
import { LISTEN_FOR_NOTHING, listenFor } from '../../../src/transcript/glossary/listen-for.ts';
import { transcribe } from '../../../src/transcript/transcribe.ts';
import { clips } from '../clips.ts';
import { wavBytes } from '../sound-files.ts';

const RATE = 16000;
const PAUSE_SECONDS = 1.5;

/** For recordings of so many minutes, the kept clips over and over with pauses: real-time factor and peak memory. */
export function printSpeed(model: string, minutes: readonly number[], plain: boolean): void {
  console.log(`\n${model}, from file to transcript`);
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  for (const length of minutes) {
    const path = join(folder, `${length}.wav`);
    writeFileSync(path, longRecording(length));
    const script = fileURLToPath(import.meta.url);
    execFileSync(process.execPath, ['--import', 'tsx', script, model, path, ...(plain ? ['plain'] : [])], {
      stdio: 'inherit',
    });
    rmSync(path);
  }
  rmSync(folder, { recursive: true });
}

function longRecording(minutes: number): Buffer {
  const sounds = clips(/./).map(({ recording }) => recording.samples);
  const samples = new Float32Array(Math.round(minutes * 60 * RATE));
  for (let at = 0, clip = 0; at < samples.length; clip++) {
    const sound = sounds[clip % sounds.length] ?? new Float32Array(RATE);
    samples.set(sound.subarray(0, samples.length - at), at);
    at += sound.length + PAUSE_SECONDS * RATE;
  }
  return wavBytes(samples);
}

/** What a fresh process measures: one whole run from file to transcript. */
async function run(model: string, path: string, plain: boolean): Promise<void> {
  const started = performance.now();
  const recording = await readRecording(path);
  const opened = performance.now();
  const wanted = plain ? LISTEN_FOR_NOTHING : listenFor({ trade: readListenedWords() });
  await (await openEngine(model, { listenFor: wanted })).close();
  const load = (performance.now() - opened) / 1000;
  const again = performance.now();
  const { transcript } = await transcribe(recording, { model, listenFor: wanted });
  const seconds = (performance.now() - again + opened - started) / 1000;
  const peak = process.resourceUsage().maxRSS / 1024;
  const factor = (seconds / recording.duration).toFixed(3);
  const { user, system } = process.cpuUsage();
  const processor = ((user + system) / 1e6 / recording.duration).toFixed(3);
  console.log(
    `${(recording.duration / 60).toFixed(0)} min | loaded in ${load.toFixed(1)} s | ${seconds.toFixed(1)} s, real-time factor ${factor} | processor time ${processor} of the length | peak ${peak.toFixed(0)} MB | ${transcript.words.length} words`,
  );
}

const [script, model, path, plain] = process.argv.slice(1);
if (script === fileURLToPath(import.meta.url) && model && path) await run(model, path, plain === 'plain');
