import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { transformSync } from 'esbuild';
import { z } from 'zod';
import { COUNTER_VERSION } from '../../src/recording/counter/read-counter.ts';
import { RECORDING_VERSION } from '../../src/recording/open-recording.ts';
import { SHOT_SOUND_VERSION } from '../../src/recording/shot-sound.ts';
import { VOICE_VERSION } from '../../src/recording/voice.ts';
import { REGION_VERSION, TRANSCRIPT_VERSION } from '../../src/transcript/kept-words.ts';

const PROJECT = resolve(import.meta.dirname, '..', '..');
const RECORD = join(import.meta.dirname, 'stage-sources.json');

/** A stage whose results are kept, and its code: everything that a file of it imports, up to the stages before it. */
interface Stage {
  readonly version: number;
  /** Where the constant stands. */
  readonly constant: string;
  readonly files: readonly string[];
  /** Files that these import and that are another stage's, or no part of the result. */
  readonly upTo: readonly string[];
  /** Packages that the result comes from. */
  readonly packages: readonly string[];
}

const KEEPING = ['src/basics/kept.ts', 'src/recording/float-bytes.ts', 'src/basics/problem.ts'];
/** How a model gets onto the machine; its files' own checksums are among what a result is made of. */
const MODELS = ['build-moonshine', 'folder-errors', 'manifest', 'model-folder'].map(
  (name) => `src/transcript/models/${name}.ts`,
);
const RECORDING = ['src/recording/open-recording.ts', 'src/recording/read-recording.ts'];

export const STAGES: Readonly<Record<string, Stage>> = {
  recording: {
    version: RECORDING_VERSION,
    constant: 'RECORDING_VERSION in src/recording/open-recording.ts',
    files: ['src/recording/open-recording.ts'],
    upTo: KEEPING,
    packages: ['node-av', 'wavefile'],
  },
  voice: {
    version: VOICE_VERSION,
    constant: 'VOICE_VERSION in src/recording/voice.ts',
    files: ['src/recording/voice.ts'],
    upTo: KEEPING,
    packages: ['onnxruntime-node'],
  },
  region: {
    version: REGION_VERSION,
    constant: 'REGION_VERSION in src/transcript/kept-words.ts',
    files: [
      'src/transcript/hear-region.ts',
      'src/transcript/engines/open-engine.ts',
      'src/transcript/guards/afterthoughts.ts',
    ],
    upTo: [...KEEPING, ...MODELS, 'src/transcript/engines/replay.ts'],
    packages: ['@xenova/transformers', 'onnxruntime-node', 'llama-tokenizer-js'],
  },
  transcript: {
    version: TRANSCRIPT_VERSION,
    constant: 'TRANSCRIPT_VERSION in src/transcript/kept-words.ts',
    files: ['src/transcript/transcribe.ts'],
    upTo: [
      ...KEEPING,
      ...RECORDING,
      'src/recording/voice.ts',
      'src/transcript/hear-region.ts',
      'src/transcript/kept-words.ts',
      'src/transcript/engines/engine-when-needed.ts',
      'src/transcript/engines/identify-model.ts',
      'src/transcript/engines/open-engine.ts',
      'src/transcript/guards/afterthoughts.ts',
    ],
    packages: [],
  },
  'shot-sound': {
    version: SHOT_SOUND_VERSION,
    constant: 'SHOT_SOUND_VERSION in src/recording/shot-sound.ts',
    files: ['src/recording/shot-sound.ts'],
    upTo: [...KEEPING, ...RECORDING],
    packages: ['fft.js'],
  },
  counter: {
    version: COUNTER_VERSION,
    constant: 'COUNTER_VERSION in src/recording/counter/read-counter.ts',
    files: ['src/recording/counter/read-counter.ts'],
    upTo: KEEPING,
    packages: ['node-av', 'tesseract.js', '@tesseract.js-data/eng', 'sharp'],
  },
};

const recordSchema = z.record(z.string(), z.object({ version: z.number(), digest: z.string() }));
export type StageRecord = z.infer<typeof recordSchema>;

/** What was written down when somebody last looked. */
export function recorded(): StageRecord {
  return recordSchema.parse(JSON.parse(readFileSync(RECORD, 'utf8')));
}

/** How the stages are now. */
export function current(): StageRecord {
  return Object.fromEntries(
    Object.entries(STAGES).map(([name, stage]) => [
      name,
      { version: stage.version, digest: digestOf(stage) },
    ]),
  );
}

/** Writes down how the stages are now. */
export function record(): void {
  writeFileSync(RECORD, `${JSON.stringify(current(), null, 2)}\n`);
}

/** SHA-256 over the code of a stage, comments and layout left out, and over the versions of its packages. */
function digestOf({ files, upTo, packages }: Stage): string {
  const hash = createHash('sha256');
  for (const file of sourcesOf(files, upTo)) hash.update(`${file}\n${codeOf(file)}\n`);
  for (const name of packages) hash.update(`${name} ${versionOf(name)}\n`);
  return hash.digest('hex').slice(0, 16);
}

/** The files and all that they import, types too, in the order of their names. */
export function sourcesOf(files: readonly string[], upTo: readonly string[]): string[] {
  const seen = new Set<string>();
  const visit = (file: string): void => {
    if (seen.has(file) || upTo.includes(file)) return;
    seen.add(file);
    const text = readFileSync(join(PROJECT, file), 'utf8');
    for (const [, name = ''] of text.matchAll(/\b(?:from|import\()\s*'(\.[^']+)'/g)) {
      visit(
        relative(PROJECT, resolve(PROJECT, dirname(file), name))
          .split(sep)
          .join('/'),
      );
    }
  };
  for (const file of files) visit(file);
  return [...seen].sort();
}

function codeOf(file: string): string {
  const text = readFileSync(join(PROJECT, file), 'utf8');
  return transformSync(text, { loader: 'ts', minifyWhitespace: true }).code;
}

function versionOf(name: string): string {
  const { dependencies, optionalDependencies } = JSON.parse(
    readFileSync(join(PROJECT, 'package.json'), 'utf8'),
  ) as Record<'dependencies' | 'optionalDependencies', Record<string, string>>;
  const version = dependencies[name] ?? optionalDependencies[name];
  if (!version) throw new Error(`${name} is no dependency`);
  return version;
}
