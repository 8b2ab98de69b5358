import { CALIBRATED, type Calibrated } from '../notes/refiners/calibrate.ts';
import type { Answered } from './answered.ts';

/** A tag, how sure the program said it was, and whether it was right. */
export interface Claim {
  readonly tag: Calibrated;
  readonly confidence: number;
  readonly right: boolean;
}

/** The claims whose confidence lies in one tenth: what was said of them, and what came true. */
export interface ReliabilityBin {
  readonly from: number;
  readonly to: number;
  readonly count: number;
  /** Mean confidence; null where there is no claim. So with the share that was right. */
  readonly confidence: number | null;
  readonly right: number | null;
}

export interface Reliability {
  readonly count: number;
  /** Expected calibration error; null where there is no claim. */
  readonly error: number | null;
  readonly bins: readonly ReliabilityBin[];
}

const BINS = 10;

/** What a note claims of itself, tag by tag, where it answers a gold note that such a tag is asked of. */
export function claimsOf({ note, verdicts }: Answered): Claim[] {
  return CALIBRATED.flatMap((tag) => {
    const right = verdicts[tag];
    return right === null ? [] : [{ tag, confidence: note.confidence[tag], right }];
  });
}

/**
 * How far confidence can be relied on: the expected calibration error (Naeini, Cooper and Hauskrecht, 2015), which is the
 * gap between mean confidence and share of right claims in each of ten bins of equal width, weighted by their claims.
 * A bin holds its lower edge, the last one both.
 */
export function reliabilityOf(claims: readonly Claim[]): Reliability {
  const bins = Array.from({ length: BINS }, (_, i): ReliabilityBin => {
    const own = claims.filter(({ confidence }) => binOf(confidence) === i);
    const sum = own.reduce((all, { confidence }) => all + confidence, 0);
    const right = own.filter((claim) => claim.right).length;
    return {
      from: i / BINS,
      to: (i + 1) / BINS,
      count: own.length,
      confidence: own.length === 0 ? null : sum / own.length,
      right: own.length === 0 ? null : right / own.length,
    };
  });
  const gaps = bins.reduce(
    (all, bin) => all + bin.count * Math.abs((bin.confidence ?? 0) - (bin.right ?? 0)),
    0,
  );
  return { count: claims.length, error: claims.length === 0 ? null : gaps / claims.length, bins };
}

/** The reliability of each tag's confidence. */
export function reliabilityByTag(claims: readonly Claim[]): Record<Calibrated, Reliability> {
  const own = CALIBRATED.map((tag) => [tag, reliabilityOf(claims.filter((claim) => claim.tag === tag))]);
  return Object.fromEntries(own) as Record<Calibrated, Reliability>;
}

function binOf(confidence: number): number {
  return Math.min(BINS - 1, Math.max(0, Math.floor(confidence * BINS)));
}
