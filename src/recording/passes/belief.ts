import { SAMPLE_RATE } from '../recording.ts';
import type { Alignment } from './align.ts';
import { HOP_SAMPLES } from './frames.ts';

/**
 * Evidence, in nats, at which a play is as likely as not; how much more makes it e times likelier; and how much of what its best moment
 * says is left out first. A vowel or a pause of the shot meets one like it somewhere in an hour of talk, but not the next one too: in
 * two hours of real talk without the shot the most that was left was 21 by bands and 4 by waveform, where plays reach 60 and
 * more. Steps and knocks, whose waveform is one moment, keep half of it.
 */
const BELIEF = {
  waveform: { even: 36, step: 8, leftOut: 0.5 },
  bands: { even: 30, step: 4, leftOut: 1 },
};
const MOMENT_SECONDS = 0.256;

/**
 * How sure it is that the shot plays where it was laid, 0 to 1.
 * @param lead what this place says more than the next best one, in nats
 */
export function beliefIn(alignment: Alignment, lead: number): number {
  const { even, step, leftOut } = BELIEF[alignment.by];
  const evidence = Math.min(lead, alignment.evidence) - leftOut * bestMoment(alignment);
  return 1 / (1 + Math.exp((even - evidence) / step));
}

/** What the moment that says most says, in nats. */
function bestMoment({ nats, windows }: Alignment): number {
  const length = Math.round((MOMENT_SECONDS * SAMPLE_RATE) / HOP_SAMPLES);
  let sum = 0;
  let most = 0;
  for (let k = windows.from; k < windows.to; k++) {
    sum += nats[k] as number;
    if (k - length >= windows.from) sum -= nats[k - length] as number;
    most = Math.max(most, sum);
  }
  return most;
}
