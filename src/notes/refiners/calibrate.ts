import { z } from 'zod';
import type { Language } from '../../language/language.ts';

export const CALIBRATED = ['role', 'issue', 'body', 'basis', 'strength', 'frames'] as const;
export type Calibrated = (typeof CALIBRATED)[number];

const stepsSchema = z.array(z.tuple([z.number(), z.number()]));

/** Fitted by src/training on whole critiques that the models had not seen. */
export const calibrationSchema = z.strictObject({
  /** For each tag, rising pairs of raw score and share of such tags that were right. */
  curves: z.partialRecord(z.enum(CALIBRATED), stepsSchema).default({}),
});
export type Calibration = z.infer<typeof calibrationSchema>;

/** The calibration of a language; without a fitted one scores stand as they are. */
export function calibrationOf(language: Language): Calibration {
  return calibrationSchema.parse(language.tables.get('calibration') ?? {});
}

/** A raw score as the share of such scores that are right, between the fitted points in a straight line. */
export function calibrated({ curves }: Calibration, tag: Calibrated, score: number): number {
  const steps = curves[tag];
  if (!steps || steps.length === 0) return Math.min(1, Math.max(0, score));
  const above = steps.findIndex(([at]) => at >= score);
  if (above === 0) return steps[0]?.[1] ?? score;
  if (above < 0) return steps.at(-1)?.[1] ?? score;
  const [x0, y0] = steps[above - 1] ?? [0, 0];
  const [x1, y1] = steps[above] ?? [1, 1];
  return x1 === x0 ? y1 : y0 + ((y1 - y0) * (score - x0)) / (x1 - x0);
}
