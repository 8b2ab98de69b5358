/** critsheet as a library: each stage, the record it makes, and the whole path. Nothing here prints. */
export type { Ingredients, Kept, KeptKind } from './basics/kept.ts';
export type { Pass } from './basics/pass.ts';
export { PersonError, type Problem } from './basics/problem.ts';
export { type Character, type Shot, shotSchema } from './basics/shot.ts';
export { BASES, ISSUES, PARTS, ROLES, SIDES, STRENGTHS } from './basics/terms.ts';
export { type CacheOptions, openCache } from './cache/open-cache.ts';
export { compareSheets } from './comparison/compare.ts';
export type { OlderSheet } from './comparison/with-previous.ts';
export { type Applied, applyCorrections, type Unfit } from './corrections/apply.ts';
export { uncorrect } from './corrections/correctable.ts';
export {
  type Corrections,
  correctionsSchema,
  type Decision,
  readCorrections,
} from './corrections/corrections.ts';
export type { OutsideWriter } from './files/load-writers.ts';
export { type Language, loadLanguage } from './language/language.ts';
export { readListenedWords } from './language/listened-words.ts';
export { findNotes } from './notes/find-notes.ts';
export { type Note, noteSchema } from './notes/note.ts';
export { makeSheetPage, type SheetPageOptions } from './page/sheet-page.ts';
export {
  type HearOptions,
  hearWords,
  makeSheetOf,
  type Playing,
  type Progress,
  type ReadOptions,
  readCritique as read,
  /** The name of `read` in versions before it. */
  readCritique,
} from './pipeline.ts';
export { type ReadEvent, readEvents } from './read-events.ts';
export { type OpenRecording, openRecording } from './recording/open-recording.ts';
export { type PassSources, readPasses } from './recording/read-passes.ts';
export { readRecording } from './recording/read-recording.ts';
export { type Recording, SAMPLE_RATE } from './recording/recording.ts';
export { sheetJsonSchema } from './sheet/json-schema.ts';
export { makeSheet, type SheetParts } from './sheet/make-sheet.ts';
export { type CarriedNote, type Previous, previousSchema } from './sheet/previous.ts';
export { readSheet } from './sheet/read-sheet.ts';
export { SHEET_SCHEMA, type Sheet, type SheetStatement, sheetSchema } from './sheet/sheet.ts';
export { readTicks, type Ticks, ticksSchema } from './sheet/ticks.ts';
export type { Writer } from './sheet/writers/writer.ts';
export { SHEET_AND_TRANSCRIPT_WRITERS, SHEET_WRITERS, TRANSCRIPT_WRITERS } from './sheet/writers/writers.ts';
export { findStatements } from './statements/find-statements.ts';
export { type Statement, statementSchema } from './statements/statement.ts';
export { type ListenFor, listenFor } from './transcript/glossary/listen-for.ts';
export { DEFAULT_MODEL, MODELS, type ModelEntry } from './transcript/models/catalogue.ts';
export { transcribe } from './transcript/transcribe.ts';
export { type Transcript, transcriptSchema, type Word } from './transcript/transcript.ts';
