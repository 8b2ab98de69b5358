import { exactRate } from '../../basics/rate.ts';
import type { Meaning, ShotRange } from './meaning.ts';
import type { TrackedLook } from './track.ts';

/** Below, the readings do not go together: whatever it is, it does not count the shot's frames. */
const LEAST_AGREEMENT = 0.55;
/** A counter that never showed more frames than this did not move. */
const LEAST_FRAMES = 3;
/** So many times the last digits began again where a second ends. */
const LEAST_WRAPS = 2;

/** Whether numbers move as the frames of a shot do: enough of them, agreeing, and not only the end of a timecode. */
export function movesAsFramesDo(looks: readonly TrackedLook[], meaning: Meaning, shot: ShotRange): boolean {
  const read = looks.filter(({ exact }) => exact !== null);
  const exact = read.filter((look) => look.exact);
  const frames = new Set(exact.map(({ frame }) => frame));
  return (
    frames.size >= LEAST_FRAMES &&
    exact.length >= LEAST_AGREEMENT * read.length &&
    !endsWithSeconds(looks, meaning, shot)
  );
}

/** The frames part of a timecode, taken for a frame number, begins again each second and never goes further. */
function endsWithSeconds(looks: readonly TrackedLook[], { shows }: Meaning, shot: ShotRange): boolean {
  const { timecodeBase } = exactRate(shot.fps);
  if (timecodeBase === null || shows === 'timecode' || shows === 'timecode of the frame number') return false;
  if (shot.last !== null && shot.last - shot.first < timecodeBase) return false;
  const offset = shows === 'frames' ? 0 : shot.first - (shows === 'from one' ? 1 : 0);
  const ends = looks.map(({ frame }) => (frame - offset) % 100);
  const wraps = ends.filter((end, i) => end === 0 && ends[i - 1] === timecodeBase - 1).length;
  return wraps >= LEAST_WRAPS && ends.every((end) => end < timecodeBase);
}
