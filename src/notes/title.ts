import { z } from 'zod';
import { ISSUES, type Issue } from '../basics/terms.ts';
import type { Language } from '../language/language.ts';
import type { Amount, BodyPart } from './note.ts';

const wordingSchema = z.strictObject({ fix: z.string(), bare: z.string() });
const titleSchema = wordingSchema.extend({ what: z.string() });
const turnsSchema = z.partialRecord(z.enum(ISSUES), wordingSchema);
const titlesSchema = z
  .strictObject(
    Object.fromEntries(ISSUES.map((issue) => [issue, titleSchema])) as Record<Issue, typeof titleSchema>,
  )
  .extend({
    less: turnsSchema,
    more: turnsSchema,
    names: z.record(z.string(), z.string()),
    plural: z.array(z.string()),
    pairs: z.record(z.string(), z.string()),
  });
type Titles = z.infer<typeof titlesSchema>;

const read = new WeakMap<Language, Titles>();

function titlesOf(language: Language): Titles {
  let titles = read.get(language);
  if (!titles) {
    titles = titlesSchema.parse(language.tables.get('titles'));
    read.set(language, titles);
  }
  return titles;
}

/** What a title is written from. */
export interface TitleParts {
  readonly role: 'fix' | 'keep';
  readonly issue: Issue | null;
  readonly body: readonly BodyPart[];
  readonly amount: Amount | null;
  /** Which way the mentor wants it, where a word said so. */
  readonly direction: 'more' | 'less' | null;
  /** The mentor's own word for a prop, a cloth or a paired part: "parcel", "toes". */
  readonly own: ReadonlyMap<string, string>;
  /** The character, where the shot has several. */
  readonly character: string | null;
}

/** Most parts that a title names; the note lists them all. */
const MOST_PARTS = 2;

/** A short imperative in an animator's words, made from the tags alone. */
export function titleOf(parts: TitleParts, language: Language): string {
  const titles = titlesOf(language);
  const body = phraseOf(parts, titles);
  if (parts.role === 'keep') {
    const what = parts.issue ? `the ${titles[parts.issue].what}` : null;
    if (body && what) return `Keep ${what} of ${body}`;
    return `Keep ${body ?? what ?? 'this as it is'}`;
  }
  if (!parts.issue) return body ? `Look again at ${body}` : 'Look again at this';
  const turned = parts.direction ? titles[parts.direction][parts.issue] : undefined;
  const wording = turned ?? titles[parts.issue];
  const title = body ? wording.fix.replace('{part}', body) : wording.bare;
  return parts.amount ? `${title}: ${amountText(parts.amount)}` : title;
}

function phraseOf({ body, own, character }: TitleParts, titles: Titles): string | null {
  const named = body.slice(0, MOST_PARTS).map(({ part, side }) => {
    const plain = titles.names[part] ?? part;
    // "her toes" of nobody's side are toes; the left one is a toe, whatever the mentor said.
    const word = side === null ? (own.get(part) ?? plain) : plain;
    if (side === 'both') return `both ${titles.pairs[part] ?? word}`;
    return side ? `${side} ${word}` : word;
  });
  if (named.length === 0) return null;
  const list = named.join(' and ');
  if (character) {
    const [, both = '', rest = list] = /^(both )?(.*)$/.exec(list) ?? [];
    return `${both}${possessive(character)} ${rest}`;
  }
  return list.startsWith('both ') ? list : `the ${list}`;
}

function possessive(name: string): string {
  return name.endsWith('s') ? `${name}'` : `${name}'s`;
}

const ACTIONS: Record<Amount['what'], (size: string) => string> = {
  add: (size) => `${size} more`,
  remove: (size) => `${size} less`,
  hold: (size) => `hold ${size}`,
  earlier: (size) => `${size} earlier`,
  later: (size) => `${size} later`,
};

/** An amount in words: "3 to 4 frames more". */
export function amountText({ min, max, unit, what }: Amount): string {
  const number = min === max ? `${min}` : `${min} to ${max}`;
  return ACTIONS[what](`${number} ${max === 1 && unit !== 'percent' ? unit.replace(/s$/, '') : unit}`);
}
