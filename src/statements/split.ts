import { type Features, marginals } from '../language/chain-model.ts';
import type { Language } from '../language/language.ts';
import { pauseBefore, type Talk, type TokenRange } from '../language/talk.ts';
import type { HeardLine } from './dialogue.ts';

/** Pauses, in seconds, at which talk changes its nature: within a phrase, at a comma, at a breath, at a thought. */
const PAUSE_STEPS = [0.02, 0.12, 0.22, 0.4, 0.7, 1.2, 2.2];
const RUN_STEPS = [2, 4, 7, 12, 20, 30];
/** A silence that counts as a breath when the length of a run is reckoned. */
const BREATH_SECONDS = 0.2;
/** Talk with fewer stops than this for each word is taken as unpunctuated … */
const PUNCTUATED_SHARE = 0.02;
/** … so many words to either side: recognisers punctuate one breath and not the next. */
const STYLE_REACH = 9;
/**
 * A gap this likely to part two statements is cut. Low, since a statement cut in two is put together again by the stages
 * after this one, and two that were left in one piece are never parted.
 */
const CUT_FROM = 0.2;
/** Nobody says one thing in more words than this; a longer statement is cut where it gives most. */
const LONGEST_STATEMENT = 45;

export const CUT = 'cut';
export const JOIN = 'join';

/** Which step of a rising list a value has reached. */
export function stepOf(value: number, steps: readonly number[]): number {
  const at = steps.findIndex((step) => value < step);
  return at < 0 ? steps.length : at;
}

/** Features of the gap before each token but the first: what the pause, the stops and the words on either side say of it. */
export function gapFeatures(talk: Talk): Features[] {
  const { tokens, hits } = talk;
  const begins = new Map<number, string[]>();
  const inside = new Set<number>();
  for (const hit of hits) {
    const there = begins.get(hit.first) ?? [];
    there.push(`${hit.lexicon}:${hit.means}`);
    begins.set(hit.first, there);
    for (let i = hit.first + 1; i <= hit.last; i++) inside.add(i);
  }
  const isBare = barePlaces(talk);
  let run = 0;
  return tokens.slice(1).map((right, i) => {
    const left = tokens[i];
    if (!left || left.word === right.word) {
      run += 1;
      return ['inside-word'];
    }
    const pause = pauseBefore(talk, i + 1);
    const step = stepOf(pause, PAUSE_STEPS);
    run = pause >= BREATH_SECONDS || left.stop === '.' || left.stop === '?' ? 0 : run + 1;
    const next = tokens[i + 2];
    const style = isBare[i] ? 'bare' : 'stopped';
    return [
      `${style}`,
      `pause:${step}`,
      `${style}:pause:${step}`,
      `stop:${left.stop}`,
      `stop:${left.stop}:pause:${step}`,
      `run:${stepOf(run, RUN_STEPS)}`,
      `left:${left.stem}`,
      `right:${right.stem}`,
      ...(next ? [`right:${right.stem}_${next.stem}`] : []),
      `over:${left.stem}_${right.stem}`,
      ...(right.capital && left.stop !== '' ? ['capital'] : []),
      ...(inside.has(i + 1) ? ['inside-phrase'] : []),
      ...new Set((begins.get(i + 1) ?? []).map((cue) => `opens:${cue}`)),
    ];
  });
}

/** For each token whether the talk around it has no stops, so that their absence tells nothing. */
function barePlaces({ tokens }: Talk): boolean[] {
  const stopsBefore = [0];
  for (const { stop } of tokens)
    stopsBefore.push((stopsBefore.at(-1) ?? 0) + (stop === '.' || stop === '?' ? 1 : 0));
  return tokens.map((_, i) => {
    const from = Math.max(0, i - STYLE_REACH);
    const to = Math.min(tokens.length, i + STYLE_REACH);
    const stops = (stopsBefore[to] ?? 0) - (stopsBefore[from] ?? 0);
    return stops < (to - from) * PUNCTUATED_SHARE;
  });
}

/**
 * Cuts a talk into stretches that each say one thing. The shot's own lines are cut free of the comment around them.
 * Every token is in one stretch.
 */
export function splitTalk(talk: Talk, lines: readonly HeardLine[], language: Language): TokenRange[] {
  if (talk.tokens.length === 0) return [];
  const model = language.models.get('split');
  const likely = model
    ? marginals(model, gapFeatures(talk)).map((row) => row[model.labels.indexOf(CUT)] ?? 0)
    : [];
  const forced = new Set([
    ...lines.filter((line) => line.share >= 0.6).flatMap((line) => [line.first, line.last + 1]),
    ...findListed(talk),
  ]);
  const ranges: TokenRange[] = [];
  let first = 0;
  talk.tokens.forEach((_, i) => {
    if (i === 0) return;
    const sameWord = talk.tokens[i]?.word === talk.tokens[i - 1]?.word;
    if (sameWord || !(forced.has(i) || (likely[i - 1] ?? 0) >= CUT_FROM)) return;
    ranges.push({ first, last: i - 1 });
    first = i;
  });
  ranges.push({ first, last: talk.tokens.length - 1 });
  return ranges.flatMap((range) => shorten(range, likely));
}

/** Points are counted off where a talk is summed up, in this last part of it. */
const SUMMING_PART = 0.7;
/** So many tokens apart at most are two points of one list; so few at least is each of them. */
const LIST_REACH = 16;
const LEAST_LISTED = 3;

/** Where each point but the first begins that is counted off in one breath: "the foot, then the wind-up, then that elbow". */
function findListed({ hits, tokens }: Talk): number[] {
  const places = hits
    .filter(({ lexicon, means }) => lexicon === 'order' && means === 'lists')
    .map(({ first }) => first)
    .filter((first) => first > tokens.length * SUMMING_PART);
  const goesOn = (from: number, to: number): boolean =>
    to - from <= LIST_REACH &&
    to - from >= LEAST_LISTED &&
    tokens.slice(from, to).every((token) => token.stop !== '.' && token.stop !== '?');
  return places.filter((place) =>
    places.some((other) => other !== place && goesOn(Math.min(place, other), Math.max(place, other))),
  );
}

function shorten(range: TokenRange, likely: readonly number[]): TokenRange[] {
  if (range.last - range.first < LONGEST_STATEMENT) return [range];
  const margin = 4;
  let best = range.first + margin;
  for (let i = best; i <= range.last - margin; i++)
    if ((likely[i - 1] ?? 0) > (likely[best - 1] ?? 0)) best = i;
  return [
    { first: range.first, last: best - 1 },
    { first: best, last: range.last },
  ].flatMap((part) => shorten(part, likely));
}
