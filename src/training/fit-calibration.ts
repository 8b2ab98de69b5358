import type { Language } from '../language/language.ts';
import { type Answer, alignNotes } from '../measure/align.ts';
import { answeredNotes } from '../measure/answered.ts';
import { answerOf } from '../measure/measure.ts';
import { claimsOf } from '../measure/reliability.ts';
import { CALIBRATED, type Calibration, calibrated } from '../notes/refiners/calibrate.ts';
import { riskOf } from '../notes/refiners/check.ts';
import type { Prepared } from './examples.ts';
import { fitLanguage, withFitted } from './fit-language.ts';
import { isotonic } from './isotonic.ts';

/** Parts into which the critiques are dealt; each is read by models that the other parts made. */
const FOLDS = 4;
/** The share of notes that a person is shown. */
const SHOWN = 0.2;

/**
 * Reads every critique with models that have not seen it, and fits how sure such readings may say they are. Whole
 * critiques are left out, never single notes: one mentor's notes resemble each other.
 */
export function readUnseen(prepared: readonly Prepared[], lexicons: Language): Answer[] {
  return Array.from({ length: FOLDS }, (_, fold) => {
    const unseen = (__: Prepared, i: number): boolean => i % FOLDS === fold;
    const language = withFitted(
      lexicons,
      fitLanguage(
        prepared.filter((one, i) => !unseen(one, i)),
        lexicons,
      ),
    );
    return prepared.filter(unseen).map(({ critique }) => answerOf(critique, language));
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
  const unbounded: Calibration = { curves, riskToCheck: 1 };
  const risks = answers
    .flatMap((answer) => answer.notes)
    .filter((note) => !note.withdrawn)
    .map((note) =>
      riskOf({
        role: calibrated(unbounded, 'role', note.confidence.role),
        issue: calibrated(unbounded, 'issue', note.confidence.issue),
        body: calibrated(unbounded, 'body', note.confidence.body),
        basis: calibrated(unbounded, 'basis', note.confidence.basis),
        strength: calibrated(unbounded, 'strength', note.confidence.strength),
        frames: calibrated(unbounded, 'frames', note.confidence.frames),
      }),
    )
    .sort((a, b) => b - a);
  const riskToCheck = risks[Math.floor(risks.length * SHOWN)] ?? unbounded.riskToCheck;
  return { curves, riskToCheck: Math.round(riskToCheck * 1000) / 1000 };
}
