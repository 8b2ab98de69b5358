import type { TruePass } from './mix.ts';

/** A pass that was given, believed or not. */
export interface Given {
  readonly confidence: number;
  readonly right: boolean;
}

const SECONDS = [0, 1.5, 3, Number.POSITIVE_INFINITY];
const DECIBELS = [Number.NEGATIVE_INFINITY, -15, -9, -3, 3, Number.POSITIVE_INFINITY];
const CONFIDENCES = [0, 0.1, 0.5, 0.9, 0.99, 1];

/** How many were found, by their length and by how much louder they are than talk and noise. */
export function recallTable(found: readonly TruePass[], missed: readonly TruePass[]): string[] {
  const lines = ['found, by seconds and by decibels above talk and noise:'];
  for (const [s, most] of SECONDS.slice(1).entries()) {
    const cells = DECIBELS.slice(1).map((loudest, d) => {
      const here = ({ start, end, aboveDb }: TruePass) =>
        end - start >= (SECONDS[s] ?? 0) &&
        end - start < most &&
        aboveDb >= (DECIBELS[d] ?? 0) &&
        aboveDb < loudest;
      const hits = found.filter(here).length;
      return `${rangeOf(DECIBELS[d], loudest)} dB: ${hits} of ${hits + missed.filter(here).length}`;
    });
    lines.push(`  ${rangeOf(SECONDS[s], most)} s  ${cells.join(', ')}`);
  }
  return lines;
}

/** How many of those that were given with some confidence are right. */
export function calibrationTable(given: readonly Given[]): string[] {
  return CONFIDENCES.slice(1).map((most, i) => {
    const least = CONFIDENCES[i] ?? 0;
    const here = given.filter(({ confidence }) => confidence >= least && (confidence < most || most === 1));
    const right = here.filter((one) => one.right).length;
    return `  of confidence ${least} to ${most}: ${right} of ${here.length} right`;
  });
}

function rangeOf(least = Number.NEGATIVE_INFINITY, most = Number.POSITIVE_INFINITY): string {
  if (least === Number.NEGATIVE_INFINITY || least === 0) return `under ${most}`;
  return most === Number.POSITIVE_INFINITY ? `from ${least}` : `${least} to ${most}`;
}
