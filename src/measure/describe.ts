import type { Note } from '../notes/note.ts';
import type { GoldNote } from './critique.ts';
import type { Verdicts } from './tags.ts';

const NOTHING = '-';

/** A gold note's labels in a few words. */
export function describeGold({ role, issue, body, tier }: GoldNote): string {
  return `${role}, ${issue}, ${listOf(body)}, tier ${tier}`;
}

/** A note in a few words. */
export function describeNote({ id, role, issue, body, rank, title }: Note): string {
  return `${id} "${title}" (${role}, ${issue ?? NOTHING}, ${listOf(body.map(({ part }) => part))}, rank ${rank})`;
}

/** One tag as a person labelled it, and as the program gave it. */
export const TAG_TEXTS: Readonly<
  Record<keyof Verdicts, readonly [gold: (gold: GoldNote) => string, got: (note: Note) => string]>
> = {
  role: [({ role }) => role, ({ role }) => role],
  character: [({ character }) => character ?? NOTHING, ({ character }) => character ?? NOTHING],
  body: [({ body }) => listOf(body), ({ body }) => listOf(body.map(({ part }) => part))],
  side: [
    ({ side }) => side ?? NOTHING,
    ({ body }) => listOf(body.map(({ part, side }) => `${side ?? 'no side'} ${part}`)),
  ],
  issue: [issuesOf, ({ issue }) => issue ?? NOTHING],
  issueAmongThree: [
    issuesOf,
    ({ issue, issueAlternatives }) => listOf([issue ?? NOTHING, ...issueAlternatives]),
  ],
  basis: [({ basis }) => basis, ({ basis }) => basis],
  strength: [({ strength }) => strength, ({ strength }) => strength],
  frames: [
    ({ frames }) => (frames ? `${frames[0]} to ${frames[1]}` : NOTHING),
    ({ frames }) => (frames ? `${frames.first} to ${frames.last}, ${frames.source}` : NOTHING),
  ],
  amount: [({ amount }) => amountText(amount), ({ amount }) => amountText(amount)],
  options: [
    ({ alternatives }) => String(alternatives),
    ({ options }) => `${options.length}: ${listOf(options)}`,
  ],
};

function issuesOf({ issue, issue2 }: GoldNote): string {
  return issue2 ? `${issue} or ${issue2}` : issue;
}

function amountText(amount: Note['amount'] | GoldNote['amount']): string {
  return amount ? `${amount.min} to ${amount.max} ${amount.unit}, ${amount.what}` : NOTHING;
}

function listOf(things: readonly string[]): string {
  return things.length === 0 ? NOTHING : things.join(' + ');
}
