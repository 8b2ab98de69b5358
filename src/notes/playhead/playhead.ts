import type { Pass } from '../../basics/pass.ts';
import type { Shot } from '../../basics/shot.ts';

/** Where the shot stood at a moment of the recording. */
export interface Stand {
  /** Shot frame, whole: the one on screen. */
  readonly frame: number;
  /** How many frames it may be off. */
  readonly errorFrames: number;
  /** Frames a second that it moves at; 0 where it stands. */
  readonly pace: number;
  /** How sure it is that the shot stood near there, 0 to 1. */
  readonly confidence: number;
  /** The pass that tells it, the one going on or the last before; null where words alone tell it. */
  readonly pass: Pass | null;
}

/** A step through the shot that was told in words: "one more", "back two". */
export interface Step {
  readonly seconds: number;
  /** Frames onward; less than nothing is back. */
  readonly frames: number;
}

/** A frame that was said aloud, at the moment of its last word: whoever names a frame mostly looks at it. */
export interface NamedFrame {
  readonly seconds: number;
  readonly frame: number;
}

/** What words tell of the player, each list in the order of time. */
export interface Told {
  readonly steps: readonly Step[];
  readonly named: readonly NamedFrame[];
}

/** Where the shot stood, by recording time. */
export interface Playhead {
  /**
   * The frame on screen `lag` seconds before a moment if the shot was moving then; null before anything is known. The
   * error counts half of the lag in.
   */
  at(seconds: number, lag?: number): Stand | null;
  /** What was last played or dragged through by that moment, the first frame to the last; null where nothing was. */
  spanAt(seconds: number): { first: number; last: number; confidence: number } | null;
}

/** A pass this flat, in frames a second, is a standing picture. */
const STANDING_PACE = 0.5;
/** Below this part of the shot's rate frames are stepped through; the slowest playing is a quarter. */
const STEPPING_SHARE = 0.2;
/** After so many seconds without news, half the trust is left: the mentor may have scrubbed in silence. */
const HALF_TRUST_SECONDS = 60;
/** Words lag what they are about: people need about this long to say "there" (from memory, simple reaction and onset of speech). */
export const REACTION_SECONDS = 0.3;
const STEP_ERROR = 1;
/** How sure it is that the shot stands on a frame that was said. */
const NAMED_TRUST = 0.6;
/** A frame that was said so near the one the shot stands on is that one. */
const NEAR_FRAMES = 2;
/** Pieces of one dragging, or of one playing that is told in pieces, lie no further apart than this, in seconds. */
const ONE_MOTION_SECONDS = 0.6;
/** Less is stepping and no span. */
const LEAST_SPAN_FRAMES = 4;
/** A speed this near the shot's own, in parts of it, is playing. */
const PLAYING_TOLERANCE = 0.15;

/**
 * The playhead of a recording.
 *
 * @param passes In the order of time.
 * @param told Counts where nothing better than the shot's sound is known, since a log and a counter show stepping and
 *   dragging themselves.
 */
export function playheadOf(passes: readonly Pass[], { steps, named }: Told, shot: Shot): Playhead {
  const at = (seconds: number, lag = REACTION_SECONDS): Stand | null => {
    const index = lastBegunBefore(passes, seconds);
    const pass = passes[index];
    if (!pass) return toldSince(Number.NEGATIVE_INFINITY, seconds, null);
    const playing = seconds <= pass.end && goesBy(pass, shot) ? pass : ranOut(index, seconds - lag);
    if (playing) {
      // The moment that is meant may lie in the pass before, as where a recording of the screen is told in pieces.
      const moment = seconds - lag;
      const then = passes[lastBegunBefore(passes, moment)] ?? playing;
      const joined =
        then === playing || (goesBy(then, shot) && playing.start - then.end < ONE_MOTION_SECONDS);
      const of = joined ? then : playing;
      const frame = of.first + paceOf(of) * (Math.min(Math.max(moment, of.start), of.end) - of.start);
      return {
        frame: onScreen(frame, shot),
        errorFrames: (playing.frameError ?? 0) + (Math.abs(paceOf(playing)) * lag) / 2,
        pace: paceOf(playing),
        confidence: playing.confidence,
        pass: playing,
      };
    }
    const standing = seconds <= pass.end;
    const stand: Stand = {
      frame: onScreen(standing ? endedBy(pass, seconds) : pass.last, shot),
      errorFrames: (standing ? pass.frameError : pass.lastError) ?? 0,
      pace: 0,
      confidence: pass.confidence,
      pass,
    };
    return pass.source === 'sound' ? toldSince(pass.end, seconds, stand) : stand;
  };

  /** The playing that was still going on at a moment and has since come to the shot's end: nobody stopped it on a frame. */
  const ranOut = (index: number, moment: number): Pass | null => {
    const playing = [passes[index], passes[index - 1]].find((pass) => pass !== undefined && isMoving(pass));
    const toItsEnd = playing && shot.last !== null && playing.last >= shot.last;
    return playing && toItsEnd && playing.start <= moment && moment < playing.end ? playing : null;
  };

  /** A stand that nobody has seen since, with what words tell of it. */
  const toldSince = (since: number, seconds: number, stand: Stand | null): Stand | null => {
    const latest = named.findLast((one) => one.seconds > since && one.seconds <= seconds);
    const known = stand && latest && Math.abs(latest.frame - stand.frame) <= stand.errorFrames + NEAR_FRAMES;
    const name = known ? undefined : latest;
    const from = name?.seconds ?? since;
    const moved = steps.filter((step) => step.seconds > from && step.seconds <= seconds);
    if (!name && !stand) return null;
    const trust = name ? NAMED_TRUST : (stand?.confidence ?? 0);
    return {
      frame: onScreen(
        (name?.frame ?? stand?.frame ?? shot.first) + moved.reduce((sum, step) => sum + step.frames, 0),
        shot,
      ),
      errorFrames: (name ? 0 : (stand?.errorFrames ?? 0)) + moved.length * STEP_ERROR,
      pace: 0,
      confidence: trust * 2 ** (-(seconds - from) / HALF_TRUST_SECONDS),
      // Whoever names another frame than the shot was stopped on has gone there unheard: only words tell where it is.
      pass: name ? null : (stand?.pass ?? null),
    };
  };

  const spanAt: Playhead['spanAt'] = (seconds) => {
    let found: { first: number; last: number; confidence: number } | null = null;
    for (let index = lastBegunBefore(passes, seconds); index >= 0; index -= 1) {
      const pass = passes[index];
      if (!pass || !isMoving(pass)) continue;
      const motion = motionTo(pass, index, seconds);
      found ??= motion;
      // A step or two after it is no other span.
      if (motion.last - motion.first >= LEAST_SPAN_FRAMES) return motion;
    }
    return found;
  };

  /** The motion that ends with a pass: a hand that drags goes to and fro over one stretch, playing again is another. */
  const motionTo = (end: Pass, at: number, seconds: number) => {
    const dragged = !isPlaying(end, shot);
    const frames = [end.first, endedBy(end, seconds)];
    let pass = end;
    for (let index = at - 1; index >= 0; index -= 1) {
      const before = passes[index];
      if (!before || pass.start - before.end > ONE_MOTION_SECONDS) break;
      if (!isMoving(before)) continue;
      if (isPlaying(before, shot) === dragged || (!dragged && Math.abs(before.last - pass.first) > 2)) break;
      frames.push(before.first, before.last);
      pass = before;
    }
    const whole = frames.map((frame) => onScreen(frame, shot));
    return { first: Math.min(...whole), last: Math.max(...whole), confidence: end.confidence };
  };
  return { at, spanAt };
}

/** Whether the shot goes by in a pass, and is not stepped through: what is said then is about a moment ago. */
function goesBy(pass: Pass, shot: Shot): boolean {
  return Math.abs(paceOf(pass)) > STEPPING_SHARE * shot.fps;
}

/** Whether the shot is moving in a pass. */
function isMoving(pass: Pass): boolean {
  return Math.abs(paceOf(pass)) > STANDING_PACE;
}

function isPlaying(pass: Pass, shot: Shot): boolean {
  const speed = paceOf(pass) / shot.fps;
  return [0.5, 1].some((usual) => Math.abs(speed - usual) <= PLAYING_TOLERANCE * usual);
}

function paceOf({ start, end, first, last }: Pass): number {
  return (last - first) / Math.max(end - start, 1e-6);
}

function endedBy(pass: Pass, seconds: number): number {
  return pass.first + paceOf(pass) * (Math.min(seconds, pass.end) - pass.start);
}

/** The whole frame that a fractional one lies in, kept inside the shot: a shot played out stays on its last frame. */
export function onScreen(frame: number, shot: Shot): number {
  const whole = Math.floor(frame + 1e-3);
  return Math.max(shot.first, shot.last === null ? whole : Math.min(whole, shot.last));
}

/** The index of the last pass that begins by a moment; -1 where none does. */
function lastBegunBefore(passes: readonly Pass[], seconds: number): number {
  let low = 0;
  let high = passes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((passes[middle]?.start ?? 0) <= seconds) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}
