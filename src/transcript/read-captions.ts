import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { basename, extname } from 'node:path';
import { messageOf, PersonError, type Problem } from '../basics/problem.ts';
import { readingFault } from '../basics/system-message.ts';
import type { Cue, CueList } from './captions/cue.ts';
import { readSrt } from './captions/srt.ts';
import { readVtt } from './captions/vtt.ts';
import { spreadWords } from './spread-words.ts';
import { type Transcript, transcriptSchema, type Word } from './transcript.ts';

const READERS: Readonly<Record<string, (text: string) => CueList>> = { '.vtt': readVtt, '.srt': readSrt };
const MILLISECONDS = 1000;
const FAULTS_TOLD = 5;

/**
 * Reads captions (WebVTT or SubRip) as a transcript. Tags, entities and the names of speakers are taken out, cues are put
 * in the order of time, and each cue's words are spread over it by their letters.
 *
 * @param path A `.vtt` or `.srt` file.
 * @returns A transcript of which `recording` is the caption file itself and `model` is called 'captions'.
 * @throws PersonError where the file cannot be read or holds no captions.
 */
export async function readCaptions(path: string): Promise<{ transcript: Transcript; problems: Problem[] }> {
  const file = basename(path);
  const reader = READERS[extname(path).toLowerCase()];
  if (!reader) throw new PersonError(`${file} is not a caption file: give a .vtt or an .srt file.`);
  const bytes = await readFile(path).catch((error: unknown) => {
    throw readingFault(error, path);
  });
  const { cues, faults } = read(reader, decode(bytes), file);
  const words = wordsOf([...cues].sort((a, b) => a.start - b.start || a.end - b.end));
  if (words.length === 0) {
    throw new PersonError(
      `${file} holds no captions that could be read${faults[0] ? ` (${faults[0]})` : ''}: save it again as WebVTT or SubRip.`,
    );
  }
  const transcript = transcriptSchema.parse({
    schema: 'critsheet-transcript/1',
    recording: {
      file,
      sha256: createHash('sha256').update(bytes).digest('hex'),
      duration: words.at(-1)?.end ?? 0,
    },
    model: { id: 'captions', sha256: null },
    words,
  });
  return { transcript, problems: problemsOf(faults, file) };
}

/** The first few faults, and how many there are: a damaged file may have one on every line. */
function problemsOf(faults: readonly string[], file: string): Problem[] {
  const told = faults.slice(0, FAULTS_TOLD).map((fault) => `In ${file}, ${fault}.`);
  const others = faults.length - told.length;
  if (others > 0) told.push(`In ${file}, ${others} more places could not be read.`);
  return told.map((message) => ({ stage: 'transcript', message }));
}

function read(reader: (text: string) => CueList, text: string, file: string): CueList {
  try {
    return reader(text);
  } catch (error) {
    throw new PersonError(
      `${file} could not be read as captions (${messageOf(error)}): save it again as WebVTT or SubRip.`,
      { cause: error },
    );
  }
}

/** Captions are UTF-8; some editors on Windows write UTF-16, which its first two bytes tell. */
function decode(bytes: Buffer): string {
  const [first, second] = bytes;
  const wide =
    first === 0xff && second === 0xfe ? 'utf-16le' : first === 0xfe && second === 0xff ? 'utf-16be' : null;
  // TextDecoder leaves the byte order mark out.
  return new TextDecoder(wide ?? 'utf-8').decode(bytes);
}

/** Where a cue runs on under the next one, it is taken to end there: the words of a transcript follow one another. */
function wordsOf(cues: readonly Cue[]): Word[] {
  let reached = 0;
  return cues.flatMap((cue, index) => {
    const next = cues[index + 1]?.start ?? Number.POSITIVE_INFINITY;
    const end = next > cue.start ? Math.min(cue.end, next) : cue.end;
    const span = { start: Math.max(0, cue.start), end: Math.max(0, cue.start, end) };
    return spreadWords(cue.text, span).map((word) => {
      const start = Math.max(reached, rounded(word.start));
      reached = Math.max(start, rounded(word.end));
      return { text: word.text, start, end: reached, confidence: 1 };
    });
  });
}

function rounded(seconds: number): number {
  return Math.round(seconds * MILLISECONDS) / MILLISECONDS;
}
