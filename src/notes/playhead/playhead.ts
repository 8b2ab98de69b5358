import type { Pass } from '../../basics/pass.ts';
import type { Shot } from '../../basics/shot.ts';

/** Where the shot stood at a moment of the recording. */
export interface Stand {
  /** Shot frame, whole: the one on screen. */
  readonly frame: number;
  /** How many frames it may be off. */
  readonly errorFrames: number;
  /** Whether the shot was playing. */
  readonly moving: boolean;
  /** How sure it is that the shot stood near there, 0 to 1. */
  readonly confidence: number;
  /** The pass that tells it: the one going on, or the last before. */
  readonly pass: Pass;
}

/** A step through the shot that was told in words: "one more", "back two". */
export interface Step {
  readonly seconds: number;
  /** Frames onward; less than nothing is back. */
  readonly frames: number;
}

/** Shot frame against recording time; null before anything is known. */
export type Playhead = (seconds: number) => Stand | null;

/** A pass this flat, in frames a second, is a standing picture. */
const STANDING_PACE = 0.5;
/** After so many seconds without news, half the trust is left: the mentor may have scrubbed in silence. */
const HALF_TRUST_SECONDS = 60;
/** Words lag what they are about: people need about this long to say "there" (from memory, simple reaction and onset of speech). */
const REACTION_SECONDS = 0.3;
const STEP_ERROR = 1;

/**
 * The playhead of a recording.
 *
 * @param passes In the order of time.
 * @param steps Told in words, in the order of time; they count where nothing better than the shot's sound is known, since
 *   a log and a counter show the steps themselves.
 */
export function playheadOf(passes: readonly Pass[], steps: readonly Step[], shot: Shot): Playhead {
  return (seconds) => {
    const pass = lastBegunBefore(passes, seconds);
    if (!pass) return null;
    const pace = (pass.last - pass.first) / Math.max(pass.end - pass.start, 1e-6);
    if (seconds <= pass.end) {
      const moving = Math.abs(pace) > STANDING_PACE;
      const lag = moving ? REACTION_SECONDS : 0;
      const at = pass.first + pace * Math.max(0, seconds - lag - pass.start);
      return {
        frame: onScreen(at, shot),
        errorFrames: (pass.frameError ?? 0) + Math.abs(pace) * lag,
        moving,
        confidence: pass.confidence,
        pass,
      };
    }
    const since = seconds - pass.end;
    const told =
      pass.source === 'sound'
        ? steps.filter((step) => step.seconds > pass.end && step.seconds <= seconds)
        : [];
    const moved = told.reduce((sum, step) => sum + step.frames, 0);
    return {
      frame: onScreen(pass.last + moved, shot),
      errorFrames: (pass.lastError ?? 0) + told.length * STEP_ERROR,
      moving: false,
      confidence: pass.confidence * (pass.source === 'sound' ? 2 ** (-since / HALF_TRUST_SECONDS) : 1),
      pass,
    };
  };
}

/** The whole frame that a fractional one lies in, kept inside the shot: a shot played out stays on its last frame. */
export function onScreen(frame: number, shot: Shot): number {
  const whole = Math.floor(frame + 1e-3);
  return Math.max(shot.first, shot.last === null ? whole : Math.min(whole, shot.last));
}

function lastBegunBefore(passes: readonly Pass[], seconds: number): Pass | undefined {
  let low = 0;
  let high = passes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((passes[middle]?.start ?? 0) <= seconds) low = middle + 1;
    else high = middle;
  }
  return passes[low - 1];
}
