import type { Shot } from '../../basics/shot.ts';
import { secondsToFrames } from '../../basics/time.ts';
import { classify, type Features } from '../../language/chain-model.ts';
import type { Language } from '../../language/language.ts';
import type { SaidNumber } from '../../language/numbers.ts';
import { hitsWithin, type Talk, type TokenRange } from '../../language/talk.ts';
import { formsOf } from '../../language/tokens.ts';
import { stepOf } from '../../statements/split.ts';
import type { Statement } from '../../statements/statement.ts';
import { type FrameWords, frameWordsOf } from '../frame-words.ts';
import { frameOf, rangeFrom } from './frame-range.ts';
import { readingsOf } from './frame-readings.ts';
import { findQuantities, type Quantity } from './quantities.ts';
import { mends } from './slips.ts';

/** Frames said aloud: where in the talk, which shot frames, and the features that tell them from other numbers. */
export interface SaidFrames extends TokenRange {
  readonly frames: readonly [first: number, last: number];
  readonly kind: 'single' | 'range' | 'edge' | 'time';
  /** The number as it was said, before what a lead leaves out was put back; of a range, its first. */
  readonly said: number;
  readonly features: Features;
}

const HUNDRED = 100;
/** "Last ten" names a stretch though no unit is said; "the last two" may be of anything. */
const LEAST_BARE_STRETCH = 8;
/** Most words that are passed over between "last" and its number. */
const PASSED_OVER = 2;
const VALUE_STEPS = [2, 6, 13, 25, 60, 200];

/** Every place where the talk may name frames of the shot, in order, before it is judged which do. */
export function frameCandidates(
  talk: Talk,
  shot: Shot,
  language: Language,
  quantities: readonly Quantity[] = findQuantities(talk, language),
): SaidFrames[] {
  const words = frameWordsOf(language);
  const found: SaidFrames[] = quantities.flatMap(
    (quantity) => fromQuantity(talk, quantity, shot, words) ?? [],
  );
  const measured = (number: SaidNumber): boolean =>
    talk.tokens[number.last]?.stop === '' && words.measures.has(talk.tokens[number.last + 1]?.form ?? '');
  const overlaps = (one: TokenRange, other: TokenRange): boolean =>
    one.first <= other.last && one.last >= other.first;
  const counted = [...quantities.filter((quantity) => quantity.unitSaid), ...found];
  const taken = (number: SaidNumber): boolean =>
    measured(number) || counted.some((one) => overlaps(one, number));
  const numbers = talk.numbers
    .flatMap((number) => readingsOf(number, shot))
    .filter((number) => !taken(number));
  for (let i = 0; i < numbers.length; i++) {
    const here = numbers[i];
    if (!here) continue;
    const first = frameOf(here.value, shot);
    if (first === null) continue;
    const range = rangeFrom(talk, here, first, numbers[i + 1], shot, words);
    if (range) {
      found.push(withFeatures(talk, range, 'range', here, words));
      if (range.usedNext) i += 1;
    } else {
      found.push(
        withFeatures(
          talk,
          { first: here.first, last: here.last, frames: [first, first] },
          'single',
          here,
          words,
        ),
      );
    }
  }
  found.sort((a, b) => a.first - b.first);
  const ordinals = findOrdinals(talk);
  return found.map((said, i) => {
    const [before, after] = [found[i - 1], found[i + 1]];
    const marks = [
      ...(ordinals.has(said.first) ? ['ordinal'] : []),
      ...(before && mends(talk, before, said) ? ['mends'] : []),
      ...(after && mends(talk, said, after) ? ['is-mended'] : []),
    ];
    const frames = before && marks.includes('mends') ? nearerReading(said, before, shot) : said.frames;
    return { ...said, frames, features: [...said.features, ...marks] };
  });
}

/** Where a mentor numbers their notes, "Seven. The sit.": numbers alone in a sentence that follow another such one. */
function findOrdinals({ tokens, numbers }: Talk): Set<number> {
  const ends = (token: number): boolean => ['.', '?'].includes(tokens[token]?.stop ?? '.');
  const alone = numbers.filter((number) => ends(number.first - 1) && ends(number.last));
  const values = new Set(alone.map((number) => number.value));
  return new Set(
    alone.filter(({ value }) => values.has(value - 1) || values.has(value + 1)).map((number) => number.first),
  );
}

/** "eleven forty-two, no, forty-four": what puts a number right leaves out what it shares with it. */
function nearerReading(said: SaidFrames, before: SaidFrames, shot: Shot): SaidFrames['frames'] {
  const [wrong] = before.frames;
  const full = frameOf(wrong - (wrong % HUNDRED) + said.said, shot);
  const nearer = full !== null && Math.abs(full - wrong) < Math.abs(said.frames[0] - wrong);
  return said.kind === 'single' && said.said < HUNDRED && nearer ? [full, full] : said.frames;
}

/** Frames told by a quantity: "the last ten frames", "two seconds in". */
function fromQuantity(talk: Talk, quantity: Quantity, shot: Shot, words: FrameWords): SaidFrames | null {
  const before = formBefore(talk, quantity.first, words);
  const after = talk.tokens[quantity.last]?.stop === '' ? (talk.tokens[quantity.last + 1]?.form ?? '') : '';
  const length =
    quantity.unit === 'seconds' ? Math.round(secondsToFrames(quantity.max, shot.fps)) : quantity.max;
  const make = (first: number, last: number, kind: SaidFrames['kind']): SaidFrames | null => {
    const [from, to] = [frameOf(first, shot), frameOf(last, shot)];
    if (from === null || to === null) return null;
    return {
      first: quantity.first,
      last: quantity.last,
      frames: [from, to],
      kind,
      said: quantity.max,
      features: [`kind:${kind}`, 'always', `before:${before}`, `after:${after}`],
    };
  };
  if (quantity.unit !== 'frames' && quantity.unit !== 'seconds') return null;
  // "the first one", "the last few millimetres" are no stretch of the shot; "Last ten." is.
  const counts = quantity.unitSaid || (length >= LEAST_BARE_STRETCH && !words.measures.has(after));
  if (words.last.has(before) && shot.last !== null && counts)
    return make(shot.last - length + 1, shot.last, 'edge');
  if (words.first.has(before) && counts) return make(shot.first, shot.first + length - 1, 'edge');
  const place = words.into.has(after) || words.atTime.has(before);
  if (quantity.unit === 'seconds' && place) return make(shot.first + length, shot.first + length, 'time');
  return null;
}

/** The word before a token, over words that say nothing: "the last, what, sixteen frames"; '' where a sentence begins between. */
function formBefore(talk: Talk, token: number, words: FrameWords): string {
  for (let at = token - 1; at >= token - 1 - PASSED_OVER; at--) {
    const here = talk.tokens[at];
    if (!here || here.stop === '.' || here.stop === '?') return '';
    if (!words.passing.has(here.form)) return here.form;
  }
  return '';
}

function withFeatures(
  talk: Talk,
  place: TokenRange & { frames: readonly [number, number] },
  kind: SaidFrames['kind'],
  number: SaidNumber,
  words: FrameWords,
): SaidFrames {
  const { tokens } = talk;
  const form = (i: number): string => tokens[i]?.form ?? '';
  const before = [1, 2, 3].map((k) => form(place.first - k));
  const closes = (i: number): string => tokens[i]?.stop ?? '';
  const features = [
    'always',
    `kind:${kind}`,
    ...(words.frame.has(before[0] ?? '') ? ['frame-word'] : []),
    ...(before.some((word) => words.frame.has(word)) ? ['frame-word-near'] : []),
    ...(words.place.has(before[0] ?? '') ? [`place:${kind}`, 'place-word'] : []),
    `before:${before[0]}`,
    `before2:${before[1]}`,
    `after:${form(place.last + 1)}`,
    `stop-before:${closes(place.first - 1)}`,
    `stop-after:${closes(place.last)}`,
    `digits:${/^\d/.test(form(number.first))}`,
    `value:${kind}:${stepOf(number.value, VALUE_STEPS)}`,
    `parts:${Math.min(number.parts.length, 2)}`,
    `around:${kind}:${closes(place.first - 1) === '' ? 'open' : 'closed'}:${closes(place.last) === '' ? 'open' : 'closed'}`,
    ...new Set(
      hitsWithin(talk, { first: Math.max(0, place.first - 2), last: place.last + 2 })
        .filter((hit) => hit.last >= place.first && hit.first <= place.last)
        .map((hit) => `in:${hit.lexicon}:${hit.means}`),
    ),
    ...(number.value !== place.frames[0] ? ['thousands-dropped'] : []),
  ];
  return {
    first: place.first,
    last: place.last,
    frames: place.frames,
    kind,
    said: number.value,
    features,
  };
}

/** What the statement and the shot around a candidate say of it. */
export function placeFeatures(
  talk: Talk,
  said: SaidFrames,
  statements: readonly Statement[],
  spoken: ReadonlySet<string>,
): Features {
  const word = talk.tokens[said.first]?.word ?? 0;
  const statement = statements.find((one) => one.firstWord <= word && one.lastWord >= word);
  const inLine = talk.tokens.slice(said.first, said.last + 1).some((token) => spoken.has(token.form));
  return [
    `role:${statement?.role}`,
    `role:${statement?.role}:${said.kind}`,
    ...(inLine ? ['in-dialogue'] : []),
  ];
}

/** The forms of the words that the shot's own dialogue holds. */
export function dialogueForms(shot: Shot): Set<string> {
  return new Set(shot.dialogue.flatMap(formsOf));
}

/** Of the places that may name frames those that really do, each with how sure that is. Without a fitted model, ranges and named frames only. */
export function findFrames(
  candidates: readonly SaidFrames[],
  talk: Talk,
  statements: readonly Statement[],
  shot: Shot,
  language: Language,
): (SaidFrames & { confidence: number })[] {
  const model = language.models.get('frame-number');
  const spoken = dialogueForms(shot);
  return candidates
    .map((said) => ({
      ...said,
      confidence: model
        ? (classify(model, [...said.features, ...placeFeatures(talk, said, statements, spoken)]).get(
            'frame',
          ) ?? 0)
        : said.kind !== 'single' || said.features.includes('frame-word')
          ? 0.9
          : 0.1,
    }))
    .filter((said) => said.confidence >= 0.5);
}
