import { dirname } from 'node:path';
import { type Failure, failureSentence, type Outcome } from '../batch/outcome.ts';
import { counted } from '../sheet/counted.ts';
import { FAILED } from './exit-codes.ts';
import { Ended, type Screen } from './screen.ts';

/** Tells of many recordings as each is done, and of what failed at the end. */
export class Outcomes {
  readonly #screen: Screen;
  readonly #verbose: boolean;
  /** By recording: one that is read after all is no failure any more. */
  readonly #failures = new Map<string, Failure>();
  readonly #folders = new Set<string>();
  #read = 0;

  constructor(screen: Screen, verbose: boolean) {
    this.#screen = screen;
    this.#verbose = verbose;
  }

  get read(): number {
    return this.#read;
  }

  /** That it failed once is past. */
  forget(recording: string): void {
    this.#failures.delete(recording);
  }

  /** One line for the sheet, and those that a person should know. */
  tell(recording: string, outcome: Outcome | 'current'): void {
    if (outcome === 'current') {
      this.#failures.delete(recording);
      this.#screen.print(`${recording}: has its sheet already.`);
    } else if ('failure' in outcome) {
      this.#failures.set(recording, outcome.failure);
      if (this.#verbose && outcome.failure.stack) this.#screen.tell(outcome.failure.stack);
      this.#screen.tell(`critsheet: ${recording}: not read. ${this.#sentence(outcome.failure)}`);
    } else {
      const { summary, notices, written } = outcome.result;
      this.#failures.delete(recording);
      this.#read++;
      for (const path of written) this.#folders.add(dirname(path));
      for (const notice of notices) this.#screen.tell(`critsheet: ${recording}: ${notice}`);
      this.#screen.print(`${recording}: ${summary}`);
      if (this.#verbose) for (const path of written) this.#screen.print(`written: ${path}`);
    }
  }

  /** Says where the sheets are, and lists what failed. @throws Ended where anything did. */
  close(): void {
    const folders = [...this.#folders].sort();
    if (folders.length > 0) this.#screen.print(`written to: ${folders.join(', ')}`);
    if (this.#failures.size === 0) return;
    const list = [...this.#failures.values()].map(
      (failure) => `\n  ${failure.recording}: ${this.#sentence(failure)}`,
    );
    throw new Ended(`${counted(list.length, 'recording')} could not be read:${list.join('')}`, FAILED);
  }

  #sentence(failure: Failure): string {
    return failureSentence(failure, this.#verbose);
  }
}
