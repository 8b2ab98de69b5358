import type { Decision } from '../corrections/corrections.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** What the checking page is told of the sheet. */
export interface CheckState {
  readonly sheet: Sheet;
  /** Ids of the notes to look at, the least sure first. */
  readonly queue: readonly string[];
  readonly decisions: readonly Decision[];
  readonly revision: number;
  /** Decisions that no longer fit, in words. */
  readonly unfit: readonly string[];
  /** Why there is no sound; null where there is. */
  readonly silent: string | null;
}

/** What the page sends: decisions, and the revision that it had seen when they were made. */
export interface DecideRequest {
  readonly seen: number;
  readonly decisions: readonly Decision[];
}

/** What comes back; `meanwhile` says what others decided of the same notes since `seen`. */
export interface DecideAnswer {
  readonly state: CheckState;
  readonly meanwhile: readonly string[];
}
