import { AMOUNT_ACTIONS, type AmountAction, type Issue } from '../../basics/terms.ts';
import { classify, type Features } from '../../language/chain-model.ts';
import type { Language } from '../../language/language.ts';
import type { Talk } from '../../language/talk.ts';
import type { Statement } from '../../statements/statement.ts';
import type { Evidence } from '../evidence.ts';
import type { Amount } from '../note.ts';
import { findQuantities, type Quantity } from './quantities.ts';
import { mends } from './slips.ts';

/** A change of more seconds than this is none of the shot: "two minutes of work". Shots last seconds (common practice, no source). */
const LONGEST_CHANGE_SECONDS = 20;
/** How far a word that says what to do may stand from its amount, in tokens. */
const REACH = 8;

const isAction = (id: string): id is AmountAction => (AMOUNT_ACTIONS as readonly string[]).includes(id);

/** A quantity is given as the change from this probability on: a wrong number is seen at once, a missing one is not. */
const ASKED_FROM = 0.4;
/** A word that asks for the change this close to its number asks for this number. */
const CLOSE = 3;

/** What speaks for a quantity being the change that is asked for. */
export function amountFeatures(
  talk: Talk,
  quantity: Quantity,
  statement: Statement,
  evidence: Evidence,
): Features {
  const form = (i: number): string => talk.tokens[i]?.stem ?? '';
  const near = evidence.hits.filter(
    (hit) => hit.last >= quantity.first - REACH && hit.first <= quantity.last + REACH,
  );
  const asks = new Set(
    near
      .filter((hit) => hit.lexicon === 'changes' && isAction(hit.means))
      .filter((hit) => hit.last >= quantity.first - CLOSE && hit.first <= quantity.last + CLOSE)
      .map((hit) => hit.means),
  );
  return [
    'always',
    ...(asks.size > 0 ? ['asked', `asked:${quantity.unitSaid}`] : []),
    ...[...asks].map((means) => `asks:${means}`),
    ...(talk.tokens[quantity.last]?.stop === '.' ? ['ends-sentence'] : []),
    ...(talk.tokens[quantity.first - 1]?.stop === '.' ? ['begins-sentence'] : []),
    `unit:${quantity.unit}`,
    `said:${quantity.unitSaid}`,
    `role:${statement.role}`,
    `span:${quantity.max > quantity.min}`,
    `before:${form(quantity.first - 1)}`,
    `before2:${form(quantity.first - 2)}`,
    `before2:${form(quantity.first - 2)}_${form(quantity.first - 1)}`,
    `after:${form(quantity.last + 1)}`,
    `size:${quantity.min <= 1 ? 'one' : quantity.max <= 8 ? 'few' : quantity.max <= 24 ? 'some' : 'many'}`,
    ...new Set(
      near
        .filter((hit) => !hit.lexicon.startsWith('issues/') && hit.lexicon !== 'parts')
        .map((hit) => `near:${hit.lexicon}:${hit.means}`),
    ),
    ...(form(quantity.first) === 'a' || form(quantity.first) === 'an' ? ['article'] : []),
    ...(form(quantity.first) === 'one' || form(quantity.first) === '1' ? ['one'] : []),
  ];
}

/** Every quantity in a note's statements with its features; reasons included, since some mentors put the number there. */
export function amountCandidates(
  talk: Talk,
  evidence: Evidence,
  language: Language,
  all = findQuantities(talk, language),
) {
  const found = evidence.statements.flatMap((statement, i) => {
    const range = evidence.ranges[i];
    if (!range) return [];
    const corrected = statement.repairs.filter((repair) => repair.kind === 'correction');
    const own = all.filter((quantity) => quantity.first >= range.first && quantity.last <= range.last);
    return own
      .filter((quantity, k) => {
        const next = own[k + 1];
        return !next || !mends(talk, quantity, next);
      })
      .filter((quantity) => {
        const word = talk.tokens[quantity.first]?.word ?? 0;
        return !corrected.some((repair) => repair.firstWord <= word && repair.lastWord >= word);
      })
      .filter((quantity) => quantity.unit !== 'seconds' || quantity.min <= LONGEST_CHANGE_SECONDS)
      .map((quantity) => ({ quantity, statement }));
  });
  return withUnits(found).map(({ quantity, statement }) => ({
    quantity,
    features: amountFeatures(talk, quantity, statement, evidence),
  }));
}

/** Units that a bare number takes over from the number before it; a bare number after seconds is of frames. */
const LASTING_UNITS: ReadonlySet<Quantity['unit']> = new Set(['degrees', 'percent']);

/** "Five degrees. I said five degrees; make that eight": a bare number is of the unit that was said just before it in the note. */
function withUnits<T extends { readonly quantity: Quantity }>(found: readonly T[]): T[] {
  let unit: Quantity['unit'] = 'frames';
  return found.map((one) => {
    if (!one.quantity.unitSaid && one.quantity.unit === 'frames')
      return { ...one, quantity: { ...one.quantity, unit } };
    unit = one.quantity.unitSaid && LASTING_UNITS.has(one.quantity.unit) ? one.quantity.unit : 'frames';
    return one;
  });
}

/** The change that a note puts a number to, or null. Of several the surest counts, of equals the later. */
export function findAmount(
  talk: Talk,
  evidence: Evidence,
  issue: Issue | null,
  language: Language,
  quantities?: readonly Quantity[],
): Amount | null {
  const model = language.models.get('amount');
  let best: { quantity: Quantity; likely: number } | null = null;
  for (const { quantity, features } of amountCandidates(
    talk,
    evidence,
    language,
    quantities ? [...quantities] : undefined,
  )) {
    const likely = model ? (classify(model, features).get('change') ?? 0) : 0.6;
    if (likely >= ASKED_FROM && (!best || likely >= best.likely)) best = { quantity, likely };
  }
  if (!best) return null;
  const { min, max, unit } = best.quantity;
  return { min, max, unit, what: actionNear(evidence, best.quantity, issue) };
}

/** What the amount does: the nearest word that says so, after it or before it; else what the fault usually asks for. */
function actionNear(evidence: Evidence, quantity: Quantity, issue: Issue | null): AmountAction {
  let nearest: { action: AmountAction; distance: number } | null = null;
  for (const hit of evidence.hits) {
    if (hit.lexicon !== 'changes' || !isAction(hit.means)) continue;
    const distance =
      hit.first > quantity.last ? hit.first - quantity.last : Math.max(0, quantity.first - hit.last);
    if (distance <= REACH && (!nearest || distance < nearest.distance))
      nearest = { action: hit.means, distance };
  }
  if (nearest) return nearest.action;
  return issue === 'hold' ? 'hold' : issue === 'overlap' || issue === 'twinning' ? 'later' : 'add';
}
