import { extname } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import type { Kept } from './basics/kept.ts';
import type { Pass } from './basics/pass.ts';
import type { Problem } from './basics/problem.ts';
import { type Shot, shotSchema } from './basics/shot.ts';
import type { OlderSheet } from './comparison/with-previous.ts';
import type { Corrections } from './corrections/corrections.ts';
import type { Language } from './language/language.ts';
import type { OpenRecording } from './recording/open-recording.ts';
import type { PassSources } from './recording/read-passes.ts';
import { recordingName } from './sheet/file-names.ts';
import type { Sheet } from './sheet/sheet.ts';
import type { ListenFor } from './transcript/glossary/listen-for.ts';
import { DEFAULT_MODEL } from './transcript/models/catalogue.ts';
import type { Transcript } from './transcript/transcript.ts';

/** What the path is doing, for whoever waits: the stage, and how much of it is done, 0 to 1. */
export interface Progress {
  readonly stage: 'recording' | 'model' | 'voice' | 'words' | 'playing' | 'notes';
  readonly done: number;
}

/** A shot of which any part may be unknown. */
export type ShotKnown = { readonly [Key in keyof Shot]?: Shot[Key] | undefined };

export interface HearOptions {
  /** A model of the catalogue, or the folder of an exported one; the default model where it is left out. */
  readonly model?: string | undefined;
  /** What is known of the shot: its characters' names and its lines are listened for. */
  readonly shot?: ShotKnown | undefined;
  /** Words and phrases that a person wants listened for, beside those of the trade and of the shot. */
  readonly glossary?: readonly string[] | undefined;
  /** Where what was dear to make is kept between runs, as `openCache` gives it; nothing is kept where it is left out. */
  readonly kept?: Kept | undefined;
  /** Stops the work; the promise is then rejected with the signal's reason. */
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: ((progress: Progress) => void) | undefined;
}

export interface ReadOptions extends HearOptions {
  /** What tells where the shot stood while it was talked about. */
  readonly passes?: PassSources | undefined;
  /** What a person decided of an earlier reading of this recording; applied again where it fits. */
  readonly corrections?: Corrections | undefined;
  /** The sheet of the recording before; the new sheet then says what became of its notes. */
  readonly previous?: OlderSheet | undefined;
}

/** The whole path: a recording, or its captions, becomes a ranked sheet. Writes nothing and prints nothing. */
export async function readCritique(
  path: string,
  options: ReadOptions = {},
): Promise<{ sheet: Sheet; problems: Problem[] }> {
  // Read first: a slip in an edited lexicon should be told of before an hour of sound is heard.
  const language = (await import('./language/language.ts')).loadLanguage();
  const shot = shotSchema.parse({ ...options.shot, name: options.shot?.name ?? recordingName(path) });
  const { transcript: heard, recording, problems } = await hearWords(path, options);
  const played = await findPlaying(path, recording, shot, options);
  const { correctSheet, correctWords } = await import('./corrections/again.ts');
  const transcript = correctWords(heard, options.corrections);
  options.onProgress?.({ stage: 'notes', done: 0 });
  const { sheet: corrected, problems: unfit } = correctSheet(
    await makeSheetOf(transcript, shot, language, played, options.signal),
    options.corrections,
    language,
  );
  const { sheet, problems: uncompared } = await compareWith(options.previous, corrected, language);
  options.signal?.throwIfAborted();
  options.onProgress?.({ stage: 'notes', done: 1 });
  return { sheet, problems: [...problems, ...played.problems, ...unfit, ...uncompared] };
}

/** The sheet with what it says of the one before, where there is one. */
async function compareWith(
  previous: OlderSheet | undefined,
  sheet: Sheet,
  language: Language,
): Promise<{ sheet: Sheet; problems: Problem[] }> {
  if (!previous) return { sheet, problems: [] };
  const { withPrevious } = await import('./comparison/with-previous.ts');
  return withPrevious(sheet, previous, language);
}

/** What is known of the shot's playing: when it stood where, and the lines that its own sound says. */
export interface Playing {
  readonly passes: readonly Pass[];
  readonly lines: readonly string[];
}

/** Finds where the shot played in the recording, and what is said in it. */
async function findPlaying(
  path: string,
  recording: OpenRecording | null,
  shot: Shot,
  options: ReadOptions,
): Promise<Playing & { problems: Problem[] }> {
  const { passes: sources, model = DEFAULT_MODEL, kept, signal, onProgress } = options;
  if (!sources || Object.values(sources).every((source) => source === undefined))
    return { passes: [], lines: [], problems: [] };
  const { readPasses } = await import('./recording/read-passes.ts');
  const { passes, problems, shotSound } = await readPasses(path, recording, sources, shot, {
    kept,
    signal,
    onProgress: (done) => onProgress?.({ stage: 'playing', done }),
  });
  if (!shotSound || passes.length === 0) return { passes, lines: [], problems };
  const { hearRecording } = await import('./transcript/hear-recording.ts');
  const { linesOf } = await import('./transcript/lines.ts');
  const { transcript } = await hearRecording(shotSound, {
    model,
    listenFor: await likelyWords(options),
    kept,
    signal,
  });
  return { passes, lines: linesOf(transcript), problems };
}

/** From words to the sheet: the part of the path that knows animation and hears nothing. */
export async function makeSheetOf(
  transcript: Transcript,
  shot: Shot,
  language: Language,
  { passes, lines }: Playing = { passes: [], lines: [] },
  signal?: AbortSignal,
): Promise<Sheet> {
  const { findStatements } = await import('./statements/find-statements.ts');
  const { findNotes } = await import('./notes/find-notes.ts');
  const { makeSheet } = await import('./sheet/make-sheet.ts');

  // What the shot says is heard again at each playing, whether or not somebody wrote its lines down.
  const heard = { ...shot, dialogue: [...shot.dialogue, ...lines] };
  const statements = findStatements(transcript, heard, language);
  // These stages hold the thread: between them whoever wants to stop is heard.
  await setImmediate();
  signal?.throwIfAborted();
  const { notes, noteOfStatement } = findNotes(transcript, statements, heard, language, passes);
  return makeSheet({ transcript, shot, statements, notes, noteOfStatement, passes });
}

/** The words of a recording, or of a file that holds them already; and the sound, where there is one. */
export async function hearWords(
  path: string,
  options: HearOptions = {},
): Promise<{ transcript: Transcript; recording: OpenRecording | null; problems: Problem[] }> {
  const { model = DEFAULT_MODEL, kept, signal, onProgress } = options;
  const ending = extname(path).toLowerCase();
  if (ending === '.json') {
    const { readSavedTranscript } = await import('./transcript/saved-transcript.ts');
    return { ...(await readSavedTranscript(path)), recording: null };
  }
  if (ending === '.vtt' || ending === '.srt') {
    const { readCaptions } = await import('./transcript/read-captions.ts');
    return { ...(await readCaptions(path)), recording: null };
  }

  const { openRecording } = await import('./recording/open-recording.ts');
  const { hearRecording } = await import('./transcript/hear-recording.ts');
  const recording = await openRecording(path, {
    kept,
    signal,
    onProgress: (done) => onProgress?.({ stage: 'recording', done }),
  });
  const heard = await hearRecording(recording, {
    model,
    listenFor: await likelyWords(options),
    kept,
    signal,
    onProgress: ({ stage, fraction }) => onProgress?.({ stage, done: fraction }),
  });
  return { ...heard, recording };
}

/** What is likely to be said: the words of the trade, of the shot, and those that a person asked for. */
async function likelyWords({ shot, glossary }: HearOptions): Promise<ListenFor> {
  const { readListenedWords } = await import('./language/listened-words.ts');
  const { readHeardNumbers } = await import('./language/heard-numbers.ts');
  const { listenFor } = await import('./transcript/glossary/listen-for.ts');
  return listenFor({ trade: readListenedWords(), shot, own: glossary, numbers: readHeardNumbers() });
}
