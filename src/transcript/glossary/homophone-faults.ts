import { spreadWords } from '../spread-words.ts';
import { homophoneMender } from './homophones.ts';
import type { NumbersHeard } from './listen-for.ts';

/** A sentence of an entry that does not come out as it should. */
export interface HomophoneFault {
  /** What the entry says. */
  readonly entry: string;
  readonly line: 'yes' | 'no';
  readonly text: string;
  readonly message: string;
}

/** Tries the sentences of each entry: in `yes` its number is mended, in `no` it is not. */
export function homophoneFaults<Entry extends NumbersHeard['homophones'][number] & Sentences>({
  homophones,
  words,
}: {
  readonly homophones: readonly Entry[];
  readonly words: readonly string[];
}): HomophoneFault[] {
  return homophones.flatMap((homophone) => {
    const mend = homophoneMender({ homophones: [homophone], words });
    const isMended = (text: string) =>
      mend(spreadWords(text, { start: 0, end: 1 }).map((word) => ({ ...word, confidence: 1 }))).some(
        ({ heard }) => heard !== undefined,
      );
    const fault = (line: 'yes' | 'no', message: string): HomophoneFault => ({
      entry: homophone.says,
      line,
      text: homophone[line],
      message,
    });
    return [
      ...(isMended(homophone.yes) ? [] : [fault('yes', 'is not mended')]),
      ...(isMended(homophone.no) ? [fault('no', 'is mended, and should not be')] : []),
    ];
  });
}

interface Sentences {
  readonly yes: string;
  readonly no: string;
}
