import type { Problem } from '../basics/problem.ts';
import type { Language } from '../language/language.ts';
import type { RecordingRef, Transcript } from '../transcript/transcript.ts';
import { applyCorrections, mendWords } from './apply.ts';
import type { Correctable } from './correctable.ts';
import type { Corrections } from './corrections.ts';
import { describeDecision } from './describe.ts';
import { retitleWith } from './retitle.ts';

/** The words as a person mended them, so that a new reading begins from the right ones. */
export function correctWords(transcript: Transcript, corrections: Corrections | undefined): Transcript {
  return corrections && isOf(transcript, corrections)
    ? mendWords(transcript, corrections.decisions)
    : transcript;
}

/** A new reading with everything applied that a person decided of an earlier one, and a sentence for what no longer fits. */
export function correctSheet<T extends Correctable & Shown>(
  sheet: T,
  corrections: Corrections | undefined,
  language: Language,
): { sheet: T; problems: Problem[] } {
  if (!corrections) return { sheet, problems: [] };
  if (!isOf(sheet, corrections)) {
    const message = `The corrections are of another recording (${corrections.recording.file}), so none was applied.`;
    return { sheet, problems: [{ stage: 'corrections', message }] };
  }
  const retitle = retitleWith(language, sheet.shot.characters.length);
  const { sheet: corrected, unfit } = applyCorrections(sheet, corrections.decisions, retitle);
  const problems = unfit.map(({ decision, why }) => ({
    stage: 'corrections',
    message: `A correction no longer fits (${describeDecision(decision)}): ${why}.`,
  }));
  return { sheet: corrected, problems };
}

/** What is looked at beside the lists that are corrected. */
interface Shown {
  readonly recording: RecordingRef;
  readonly shot: { readonly characters: readonly unknown[] };
}

function isOf(record: { readonly recording: RecordingRef }, corrections: Corrections): boolean {
  return corrections.recording.sha256 === record.recording.sha256;
}
