import { extname } from 'node:path';
import type { Problem } from './basics/problem.ts';
import { type Shot, shotSchema } from './basics/shot.ts';
import type { Corrections } from './corrections/corrections.ts';
import type { Language } from './language/language.ts';
import { recordingName } from './sheet/file-names.ts';
import type { Sheet } from './sheet/sheet.ts';
import { DEFAULT_MODEL } from './transcript/models/catalogue.ts';
import type { Transcript } from './transcript/transcript.ts';

/** What the path is doing, for whoever waits: the stage, and how much of it is done, 0 to 1. */
export interface Progress {
  readonly stage: 'recording' | 'model' | 'voice' | 'words' | 'notes';
  readonly done: number;
}

export interface HearOptions {
  /** A model of the catalogue, or the folder of an exported one; the default model where it is left out. */
  readonly model?: string | undefined;
  /** Stops the work; the promise is then rejected with the signal's reason. */
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: ((progress: Progress) => void) | undefined;
}

/** A shot of which any part may be unknown. */
export type ShotKnown = { readonly [Key in keyof Shot]?: Shot[Key] | undefined };

export interface ReadOptions extends HearOptions {
  /** What is known of the shot; any part may be left out. */
  readonly shot?: ShotKnown | undefined;
  /** What a person decided of an earlier reading of this recording; applied again where it fits. */
  readonly corrections?: Corrections | undefined;
}

/** The whole path: a recording, or its captions, becomes a ranked sheet. Writes nothing and prints nothing. */
export async function readCritique(
  path: string,
  options: ReadOptions = {},
): Promise<{ sheet: Sheet; problems: Problem[] }> {
  // Read first: a slip in an edited lexicon should be told of before an hour of sound is heard.
  const language = (await import('./language/language.ts')).loadLanguage();
  const { transcript: heard, problems } = await hearWords(path, options);
  const { correctSheet, correctWords } = await import('./corrections/again.ts');
  const transcript = correctWords(heard, options.corrections);
  options.onProgress?.({ stage: 'notes', done: 0 });
  const shot = shotSchema.parse({ ...options.shot, name: options.shot?.name ?? recordingName(path) });
  const { sheet, problems: unfit } = correctSheet(
    await makeSheetOf(transcript, shot, language),
    options.corrections,
    language,
  );
  options.signal?.throwIfAborted();
  options.onProgress?.({ stage: 'notes', done: 1 });
  return { sheet, problems: [...problems, ...unfit] };
}

/** From words to the sheet: the part of the path that knows animation and hears nothing. */
export async function makeSheetOf(transcript: Transcript, shot: Shot, language: Language): Promise<Sheet> {
  const { findStatements } = await import('./statements/find-statements.ts');
  const { findNotes } = await import('./notes/find-notes.ts');
  const { makeSheet } = await import('./sheet/make-sheet.ts');

  const statements = findStatements(transcript, shot, language);
  const { notes, noteOfStatement } = findNotes(transcript, statements, shot, language);
  return makeSheet({ transcript, shot, statements, notes, noteOfStatement });
}

/** The words of a recording, or of a file that holds them already. */
export async function hearWords(
  path: string,
  { model = DEFAULT_MODEL, signal, onProgress }: HearOptions = {},
): Promise<{ transcript: Transcript; problems: Problem[] }> {
  const ending = extname(path).toLowerCase();
  if (ending === '.json') return (await import('./transcript/saved-transcript.ts')).readSavedTranscript(path);
  if (ending === '.vtt' || ending === '.srt')
    return (await import('./transcript/read-captions.ts')).readCaptions(path);

  const { readRecording } = await import('./recording/read-recording.ts');
  const recording = await readRecording(path, {
    signal,
    onProgress: (done) => onProgress?.({ stage: 'recording', done }),
  });
  const { transcribe } = await import('./transcript/transcribe.ts');
  const heard = await transcribe(recording, {
    model,
    signal,
    onProgress: ({ stage, fraction }) => onProgress?.({ stage, done: fraction }),
  });
  return { transcript: heard.transcript, problems: [...recording.problems, ...heard.problems] };
}
