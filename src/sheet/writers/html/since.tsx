import type { VNode } from 'preact';
import type { Verdict } from '../../previous.ts';
import type { Sheet } from '../../sheet.ts';
import { type OldLine, sinceLast } from '../since-last.ts';
import { QuoteLine } from './quote.tsx';

/** The pencil of each verdict, in the names that the style sheet knows: what stands open is red, what is mended blue. */
const PENCILS: Readonly<Record<Verdict, string>> = {
  done: 'keep',
  'still-there': 'fix',
  'taken-back': 'back',
  'not-mentioned': 'optional',
};
/** More strokes than this are no longer counted at a glance; the words tell the number. */
const MOST_STROKES = 5;

/** What became of the notes of the recording before, a line each, with a stroke for each time that it was asked for. */
export function Since({ sheet, playable }: { sheet: Sheet; playable: boolean }): VNode | null {
  const since = sinceLast(sheet);
  if (!since) return null;
  return (
    <section class="since" aria-labelledby="since-last-time">
      <h2 id="since-last-time">Since last time</h2>
      <p class="says">{since.says}</p>
      {since.groups.map(({ verdict, title, lines }) => (
        <div key={verdict} class={`${verdict} ${PENCILS[verdict]}`}>
          <h3>{title}</h3>
          <ul>
            {lines.map((line, i) => (
              // Two old notes may have one id: each recording counts anew.
              <Old key={`${i} ${line.carried.note.id}`} line={line} sheet={sheet} playable={playable} />
            ))}
          </ul>
        </div>
      ))}
    </section>
  );
}

function Old({ line, sheet, playable }: { line: OldLine; sheet: Sheet; playable: boolean }): VNode {
  const { says, facts, now, carried } = line;
  return (
    <li class="old">
      <span class="strokes" aria-hidden="true">
        {Array.from({ length: Math.min(carried.asked, MOST_STROKES) }, (_, i) => (
          <i key={i} />
        ))}
      </span>
      <div>
        <p>
          <span class="what">{says}</span>
          {facts.map((fact) => (
            <span key={fact} class="fact">
              {fact}
            </span>
          ))}
          {now && <a href={`#${now.id}`}>note {now.rank}</a>}
        </p>
        {carried.said.length > 0 && (
          <ul class="words">
            {carried.said.map((quote) => (
              <QuoteLine key={quote.start} quote={quote} sheet={sheet} playable={playable} />
            ))}
          </ul>
        )}
      </div>
    </li>
  );
}
