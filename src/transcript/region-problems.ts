import type { Problem } from '../basics/problem.ts';
import type { Region } from '../recording/regions.ts';
import type { RegionWords } from './hear-region.ts';

/** Says which stretches of the recording a person should listen to again, one sentence for each. */
export function regionProblems(regions: readonly Region[], heard: readonly RegionWords[]): Problem[] {
  return regions.flatMap((region, index) => {
    const { cut = false, dropped = [] } = heard[index] ?? {};
    const where = `Between ${clock(region.start)} and ${clock(region.end)}`;
    const messages: string[] = [];
    if (cut)
      messages.push(`${where} the recogniser repeated itself, and the repeats were cut: listen there again.`);
    if (dropped.length > 0) {
      const words = dropped.map((word) => word.text).join(' ');
      messages.push(
        `${where} "${words}" was left out, because it was most likely heard into noise or silence.`,
      );
    }
    return messages.map((message) => ({ stage: 'transcript', message }));
  });
}

/** Minutes and seconds, for a person who looks the place up in a player. */
function clock(seconds: number): string {
  const whole = Math.floor(seconds);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}
