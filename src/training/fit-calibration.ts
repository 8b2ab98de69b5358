import type { Language } from '../language/language.ts';
import { type Answer, alignNotes } from '../measure/align.ts';
import { answeredNotes } from '../measure/answered.ts';
import { answerOf } from '../measure/measure.ts';
import { claimsOf } from '../measure/reliability.ts';
import { CALIBRATED, type Calibration } from '../notes/refiners/calibrate.ts';
import { fitLanguage, withFitted } from './fit-language.ts';
import { isotonic } from './isotonic.ts';
import type { Prepared } from './prepare.ts';

/** Parts into which the critiques are dealt; each is read by models that the other parts made. */
const FOLDS = 4;

/**
 * Reads critiques, by name, with models that have not seen them. Whole critiques are left out, never single notes: one
 * mentor's notes resemble each other.
 */
export function readUnseen(
  prepared: readonly Prepared[],
  names: ReadonlySet<string>,
  lexicons: Language,
): Answer[] {
  return Array.from({ length: FOLDS }, (_, fold) => {
    const unseen = (__: Prepared, i: number): boolean => i % FOLDS === fold;
    const language = withFitted(
      lexicons,
      fitLanguage(
        prepared.filter((one, i) => !unseen(one, i)),
        lexicons,
      ),
    );
    return prepared
      .filter((one, i) => unseen(one, i) && names.has(one.critique.name))
      .map(({ critique }) => answerOf(critique, language));
  }).flat();
}

/** Fits the calibration on readings whose confidences are raw scores. */
export function fitCalibration(answers: readonly Answer[]): Calibration {
  const answered = answers.flatMap((answer) => answeredNotes(alignNotes(answer)));
  const claims = answered.flatMap(claimsOf);
  const curves = Object.fromEntries(
    CALIBRATED.map((tag) => [
      tag,
      isotonic(
        claims
          .filter((claim) => claim.tag === tag)
          .map(({ confidence, right }) => ({ score: confidence, right })),
      ),
    ]),
  );
  return { curves };
}
