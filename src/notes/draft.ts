import type { Named } from '../basics/record.ts';
import type { Note } from './note.ts';
import type { Calibrated } from './refiners/calibrate.ts';

/** How sure each tag of a note is, 0 to 1, after calibration. */
export type Confidences = Readonly<Record<Calibrated, number>>;

/** A note before it has a rank, a title and its list of things to check. */
export type DraftNote = Omit<Named<Note>, 'id' | 'rank' | 'check' | 'confidence'> & {
  readonly confidence: Confidences;
  /** How sure the joining of its mentions is. */
  readonly joinedBy: number;
  /** Seconds of the recording at which it was begun. */
  readonly begun: number;
  /** The shot frame on screen while it was spoken, where it is known to lie far from the frames that were said; else null. */
  readonly stood: number | null;
  /** What its frames are guessed from, in plain words, where neither words nor playback tell them; else null. */
  readonly guessedFrom: string | null;
  /** The moments of the action that its words name: landing, takeoff. */
  readonly moments: ReadonlySet<string>;
  /** The statements it was made from, takings back included. */
  readonly statementIds: readonly string[];
};
