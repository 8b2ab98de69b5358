import type { VNode } from 'preact';
import { minutesStamp } from '../../../basics/time.ts';
import type { Quote } from '../../../notes/note.ts';
import { textOf, wordsWithin } from '../../../transcript/words-within.ts';
import type { Sheet } from '../../sheet.ts';
import { heardAs } from '../heard-as.ts';

/** A stretch of the mentor's words. With sound it can be played, and the script marks the word being said. */
export function QuoteLine({
  quote,
  sheet,
  playable,
}: {
  quote: Quote;
  sheet: Sheet;
  playable: boolean;
}): VNode {
  const range = wordsWithin(sheet.words, quote);
  const words = range && textOf(sheet.words, range);
  // Words are marked by their numbers, so they must be the very words of the quotation.
  const marked = words !== null && words === quote.text.replace(/\s+/g, ' ').trim();
  const told = heardAs(sheet.words, quote);
  const stamp = minutesStamp(quote.start);
  return (
    <li class="said">
      {playable ? (
        <button type="button" class="play" data-start={quote.start} data-end={quote.end}>
          <span class="unseen">Play the words at </span>
          {stamp}
        </button>
      ) : (
        <span class="stamp">{stamp}</span>
      )}
      <q
        data-start={quote.start}
        data-end={quote.end}
        data-words={marked ? `${range?.first}-${range?.last}` : undefined}
      >
        {quote.text}
      </q>
      {told.length > 0 && <small class="heard-as"> ({told.join(', ')})</small>}
    </li>
  );
}
