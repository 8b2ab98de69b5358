import { messageOf, PersonError } from '../basics/problem.ts';
import { readingFault } from '../basics/system-message.ts';
import type { ReadResult } from './read-job.ts';

/** Why a job came to nothing, as plain JSON: what is thrown loses its class on the way between threads and machines. */
export interface Failure {
  readonly recording: string;
  /** One line: what happened, where, and what to do. */
  readonly message: string;
  /** Whether a person can mend it; anything else is a bug, and has its stack. */
  readonly mistake: boolean;
  readonly stack?: string;
}

/** What a job ended with. */
export type Outcome = { readonly result: ReadResult } | { readonly failure: Failure };

/** What is told of anything that a job threw. */
export function failureOf(recording: string, error: unknown): Failure {
  const path = error instanceof Error && 'path' in error ? String(error.path) : '';
  const told = path ? readingFault(error, path) : error;
  const mistake = told instanceof PersonError;
  const stack = !mistake && error instanceof Error ? error.stack : undefined;
  return { recording, message: oneLine(messageOf(told)), mistake, ...(stack !== undefined && { stack }) };
}

/**
 * A failure in one sentence, for a person.
 *
 * @param verbose Whether its stack stands above it already.
 */
export function failureSentence({ message, mistake }: Failure, verbose: boolean): string {
  if (mistake) return message;
  const advice = verbose
    ? 'Please report this, with the lines above.'
    : 'Run it again with --verbose and please report what it prints.';
  return `This should not have happened: ${message}. ${advice}`;
}

/** Messages of parsers and decoders may run over several lines; a person is promised one. */
export function oneLine(message: string): string {
  return message.replace(/\s+/g, ' ').trim();
}
