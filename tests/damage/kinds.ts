import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import { readCorrections } from '../../src/corrections/corrections.ts';
import { readShotFile } from '../../src/files/shot-file.ts';
import { loadLanguage } from '../../src/language/language.ts';
import { hearWords, makeSheetOf } from '../../src/pipeline.ts';
import { readRecording } from '../../src/recording/read-recording.ts';
import { readSheet } from '../../src/sheet/read-sheet.ts';
import { sheetSchema } from '../../src/sheet/sheet.ts';
import { readTicks } from '../../src/sheet/ticks.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../../src/sheet/writers/writers.ts';
import { parseTranscript } from '../../src/transcript/saved-transcript.ts';
import { fmt, int16, wav } from '../recording/wav-bytes.ts';
import type { Vocabulary } from './damage.ts';

const file = (name: string): Uint8Array =>
  readFileSync(fileURLToPath(new URL(`../${name}`, import.meta.url)));

const sine = int16(Float32Array.from({ length: 800 }, (_, i) => Math.sin(i / 6) / 2));
const SOUNDS: readonly Uint8Array[] = [
  file('fixtures/speech/synth-lift.wav').subarray(0, 6000),
  file('fixtures/recording/adpcm.wav').subarray(0, 6000),
  wav([fmt(1, 1, 16000, 16), { id: 'data', body: sine }]),
  wav([fmt(1, 2, 48000, 24, 3), { id: 'data', body: sine }]),
  wav([fmt(3, 1, 44100, 32), { id: 'LIST', body: sine.subarray(0, 33) }, { id: 'data', body: sine }]),
  wav([fmt(7, 1, 8000, 8), { id: 'data', body: sine }], 'RIFF', 0xffffffff),
];

const VTT = `WEBVTT - take 3

STYLE
::cue { color: lime }

NOTE spoken by the mentor

one
00:00:01.000 --> 00:00:04.500 align:start
<v Mentor>The left heel is <i>skating</i> from ten &amp; on to eighteen.

00:00:05.000 --> 00:00:08.250
I love the turn of the head, keep it.

01:00:09.000 --> 01:00:11.000
Maybe two more frames on the hold at 1042?
`;
const SRT = VTT.split('\n\n')
  .slice(3)
  .map((cue, i) => `${i + 1}\n${cue.replace(/^one\n/, '').replaceAll(/(\d)\.(\d{3})/g, '$1,$2')}`)
  .join('\n\n');
const SHOT = JSON.stringify(
  {
    name: 'sq20_sh040',
    fps: 23.976,
    first: 1001,
    last: 1168,
    characters: [{ name: 'the beekeeper', words: ['beekeeper', 'she', 'her'] }],
    dialogue: ['Mind the hive!'],
  },
  null,
  2,
);

const WAV: Vocabulary = {
  marks: [
    'RIFF',
    'RF64',
    'RIFX',
    'WAVE',
    'fmt ',
    'data',
    'ds64',
    'LIST',
    'ID3\u0004',
    '\u0001\u0000',
    'ftyp',
  ],
  values: ['data', 'fmt ', 'fmt', 'LIST', 'RF64', 'ID3\u0004'],
};
const CAPTIONS: Vocabulary = {
  marks: [
    ...[
      '-->',
      '\n\n',
      '\r\n',
      '\n',
      '00:00:04.000 --> 00:00:02.000\n',
      '&',
      '<v',
      '</',
      '{\\an8}',
      '\u0000',
      '\ufeff',
    ],
    ...['WEBVTT', '\u2028', '<00:00:02.000>', 'STYLE\n', 'NOTE\n', '<b>'.repeat(1000), ' '.repeat(500)],
  ],
  values: [
    ...[
      '999999999:59:59.999',
      '00:00:01',
      '1e999',
      'NaN',
      '-1',
      '00',
      '1001',
      '99999999999999999999',
      '3 or 4 frames',
    ],
    ...[
      '&#99999999999;',
      '&#x;',
      '&#0;',
      '膝',
      '🦶',
      '\u202e',
      'x'.repeat(3000),
      '-->',
      '\n',
      '\ud83e',
      'frame '.repeat(300),
    ],
  ],
};
const JSONS: Vocabulary = {
  marks: ['{', '}', '[', ']', '"', ':', ',', '\\u', '\u0000', '\ufeff', 'NaN', '\n', '[{"a":'.repeat(20000)],
  values: [
    ...[
      'null',
      'true',
      '-1',
      '0',
      '1e999',
      '2.5',
      '9007199254740993',
      '""',
      '"x"',
      '{}',
      '[]',
      '[null]',
      '[[]]',
    ],
    ...[
      '{"a":1}',
      '"fix"',
      '"__proto__"',
      '"first"',
      '"last"',
      '"fps"',
      '"\\ud800"',
      '"\\u0000"',
      '9'.repeat(400),
    ],
    ...[`"${'膝'.repeat(5000)}"`, '"critsheet/2"', '"-->"'],
    ...['1', '2', '12', '1001', '0.5', '"head"', '"said here"', '"n1"'],
  ],
};

/** A kind of file, whole ones to begin with, and how they are read. */
export interface Kind {
  readonly name: string;
  readonly times: number;
  readonly sources: readonly Uint8Array[];
  readonly words: Vocabulary;
  readonly headed?: boolean;
  readonly read: (path: string, bytes: Uint8Array) => unknown;
}

const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
const language = loadLanguage();
const shot = { name: 'shot', fps: 24, first: 1001, last: 1096, characters: [], dialogue: [] };
const bytesOf = (string: string): Uint8Array => new TextEncoder().encode(string);

async function sheetOfWords(path: string): Promise<void> {
  const { transcript } = await hearWords(path);
  sheetSchema.parse(await makeSheetOf(transcript, shot, language));
}

export const KINDS: readonly Kind[] = [
  {
    name: 'damaged.wav',
    times: 250,
    sources: SOUNDS,
    words: WAV,
    headed: true,
    async read(path) {
      const { samples, duration } = await readRecording(path);
      if (!samples.every(Number.isFinite)) throw new Error('samples that are no numbers');
      if (duration > 60) throw new Error(`${duration} s of sound`);
    },
  },
  {
    name: 'damaged.vtt',
    times: 200,
    sources: [bytesOf(VTT)],
    words: CAPTIONS,
    read: (path) => hearWords(path),
  },
  { name: 'damaged.srt', times: 150, sources: [bytesOf(SRT)], words: CAPTIONS, read: sheetOfWords },
  { name: 'damaged.shot.json', times: 400, sources: [bytesOf(SHOT)], words: JSONS, read: readShotFile },
  {
    name: 'damaged.sheet.json',
    times: 60,
    sources: [file('records/critsheet-1.sheet.json')],
    words: JSONS,
    read(path, bytes) {
      const sheet = readSheet(text(bytes), basename(path));
      for (const writer of Object.values(SHEET_AND_TRANSCRIPT_WRITERS)) writer.write(sheet);
    },
  },
  {
    name: 'damaged.transcript.json',
    times: 60,
    sources: [file('records/critsheet-1.sheet.json')],
    words: JSONS,
    read: (path, bytes) =>
      parseTranscript(text(bytes).replace('critsheet/1', 'critsheet-transcript/1'), basename(path)),
  },
  {
    name: 'damaged.corrections.json',
    times: 60,
    sources: [file('records/critsheet-corrections-1.corrections.json')],
    words: JSONS,
    read: (path, bytes) => readCorrections(text(bytes), basename(path)),
  },
  {
    name: 'damaged.ticks.json',
    times: 60,
    sources: [file('records/critsheet-ticks-1.ticks.json')],
    words: JSONS,
    read: (path, bytes) => readTicks(text(bytes), basename(path)),
  },
];
