/**
 * A mistake a person can mend: a missing file, a damaged recording, a wrong option. The command line prints its message
 * alone, as one sentence that says what happened, where, and what to do. Anything else that is thrown is a bug.
 */
export class PersonError extends Error {
  override readonly name = 'PersonError';
}

/** Something a stage noticed and lived with; it travels with the stage's value and is shown once at the end. */
export interface Problem {
  /** Which stage noticed it, as a folder name of src. */
  readonly stage: string;
  /** One sentence for the person who gave the recording. */
  readonly message: string;
}

/** The message of anything thrown. */
export function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
