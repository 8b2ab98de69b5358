import type { Pass } from '../../../src/basics/pass.ts';
import type { Shot } from '../../../src/basics/shot.ts';
import { passesOf } from '../../../src/recording/counter/passes.ts';
import { parsePlayheadLog } from '../../../src/recording/playhead-log.ts';

/** What an invented mentor does with the player: from `start` to `end` of the recording the shot goes from one place to another. */
export interface Move {
  readonly start: number;
  end: number;
  readonly first: number;
  last: number;
  /** Playing is heard; dragging and stepping are not. */
  readonly heard: boolean;
}

/** Counters are seen at so many pictures a second. */
const PICTURES_A_SECOND = 30;
/** Part of the playings that the search does not find, and how far its ends are off, either way, in frames (bench:frames). */
export const NOT_HEARD = 0.06;
const END_ERROR_FRAMES = 1;

/** The frame on screen at a moment: between moves the shot stands where the last one left it. */
export function frameAt(moves: readonly Move[], seconds: number, shot: Shot): number {
  const move = moves.findLast((one) => one.start <= seconds);
  if (!move) return shot.first;
  const part = move.end > move.start ? Math.min(1, (seconds - move.start) / (move.end - move.start)) : 1;
  const whole = Math.floor(move.first + part * (move.last - move.first) + 1e-6);
  return Math.max(shot.first, Math.min(whole, shot.last ?? whole));
}

/** Passes as the search for the shot's sound would give them: playings alone, their ends a little off, some not found. */
export function passesOfSound(moves: readonly Move[], random: () => number, notHeard: number): Pass[] {
  const off = (): number => (random() * 2 - 1) * END_ERROR_FRAMES;
  return moves.flatMap((move): Pass[] => {
    if (!move.heard || random() < notHeard) return [];
    const { start, end, first, last } = move;
    const ends = { first: first + off(), last: last + off() };
    const errors = { firstError: END_ERROR_FRAMES, lastError: END_ERROR_FRAMES };
    return [{ start, end, ...ends, source: 'sound', confidence: 0.95, ...errors }];
  });
}

/** Passes of a log as players write it, a row where the frame changes, read by critsheet's own reader. */
export function passesOfLog(moves: readonly Move[], seconds: number, shot: Shot): Pass[] {
  const rows: string[] = [];
  let before = Number.NaN;
  const step = 1 / (4 * shot.fps);
  for (let at = 0; at <= seconds; at += step) {
    const frame = frameAt(moves, at, shot);
    if (frame !== before) rows.push(`${at.toFixed(3)},${frame}`);
    before = frame;
  }
  const { passes, problems } = parsePlayheadLog(['time,frame', ...rows, ''].join('\n'), 'log', shot);
  if (problems.length > 0) throw new Error(problems.map(({ message }) => message).join(' '));
  return passes;
}

/** Passes of a counter that is read without fault: what reading costs is for bench:counter to say. */
export function passesOfCounter(moves: readonly Move[], seconds: number, shot: Shot): Pass[] {
  const looks: { startSeconds: number; endSeconds: number; frame: number; exact: true }[] = [];
  for (let picture = 0; picture <= seconds * PICTURES_A_SECOND; picture++) {
    const [startSeconds, endSeconds] = [picture / PICTURES_A_SECOND, (picture + 1) / PICTURES_A_SECOND];
    const frame = frameAt(moves, startSeconds, shot);
    const look = looks.at(-1);
    if (look?.frame === frame) look.endSeconds = endSeconds;
    else looks.push({ startSeconds, endSeconds, frame, exact: true });
  }
  return passesOf(looks, shot.fps);
}
