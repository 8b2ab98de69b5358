import type { Features } from '../language/chain-model.ts';
import type { Hit } from '../language/lexicon.ts';
import type { SaidNumber } from '../language/numbers.ts';
import { hitsWithin, numbersWithin, rangeOfWords, type Talk, type TokenRange } from '../language/talk.ts';
import type { Statement } from '../statements/statement.ts';

/** What the words of some statements hold, with what the speaker took back in speaking left out. */
export interface Evidence {
  readonly statements: readonly Statement[];
  readonly ranges: readonly TokenRange[];
  /** In the order of speech. */
  readonly hits: readonly Hit[];
  readonly numbers: readonly SaidNumber[];
  readonly stems: ReadonlySet<string>;
}

/** Gathers what the lexicons found in some statements of a talk. */
export function evidenceOf(talk: Talk, statements: readonly Statement[]): Evidence {
  const ranges: TokenRange[] = [];
  const hits: Hit[] = [];
  const numbers: SaidNumber[] = [];
  const stems = new Set<string>();
  for (const statement of statements) {
    const range = rangeOfWords(talk, statement.firstWord, statement.lastWord);
    if (!range) continue;
    ranges.push(range);
    const corrected = statement.repairs.filter((repair) => repair.kind === 'correction');
    const stands = (first: number, last: number): boolean =>
      !corrected.some(
        (repair) =>
          repair.firstWord <= (talk.tokens[first]?.word ?? 0) &&
          repair.lastWord >= (talk.tokens[last]?.word ?? 0),
      );
    hits.push(...hitsWithin(talk, range).filter((hit) => stands(hit.first, hit.last)));
    numbers.push(...numbersWithin(talk, range).filter((number) => stands(number.first, number.last)));
    for (let i = range.first; i <= range.last; i++) stems.add(talk.tokens[i]?.stem ?? '');
  }
  return { statements, ranges, hits, numbers, stems };
}

/** The meanings that a lexicon gave, with how often. */
export function countMeanings({ hits }: Evidence, lexicon: string): Map<string, number> {
  const counts = new Map<string, number>();
  for (const hit of hits)
    if (hit.lexicon === lexicon) counts.set(hit.means, (counts.get(hit.means) ?? 0) + 1);
  return counts;
}

/** The issues that the lexicons heard, with how often. */
export function countIssues({ hits }: Evidence): Map<string, number> {
  const counts = new Map<string, number>();
  for (const hit of hits) {
    if (hit.lexicon.startsWith('issues/')) counts.set(hit.means, (counts.get(hit.means) ?? 0) + 1);
  }
  return counts;
}

/** Features of a whole note, for the models that tell its issue, basis, strength and place in the order. */
export function noteFeatures(talk: Talk, evidence: Evidence, mentions: number): Features {
  const features = new Set<string>(['always', `mentions:${Math.min(mentions, 4)}`]);
  const total = talk.tokens.length;
  for (const hit of evidence.hits) {
    if (hit.lexicon.startsWith('issues/')) features.add(`issue:${hit.means}`);
    else if (hit.lexicon === 'parts') features.add(`part:${hit.means}`);
    else features.add(`cue:${hit.lexicon}:${hit.means}`);
  }
  for (const [issue, count] of countIssues(evidence)) if (count > 1) features.add(`issue-again:${issue}`);
  for (const range of evidence.ranges) {
    for (let i = range.first; i <= range.last; i++) {
      features.add(`w:${talk.tokens[i]?.stem}`);
      if (i > range.first) features.add(`b:${talk.tokens[i - 1]?.stem}_${talk.tokens[i]?.stem}`);
      if (talk.tokens[i]?.stop === '?') features.add('question');
    }
  }
  if (evidence.numbers.length > 0) features.add('number');
  const last = evidence.ranges.at(-1);
  if (last && total > 0 && last.first / total > 0.88) features.add('said-at-the-end');
  features.add(`length:${Math.min(4, Math.floor(evidence.ranges.length / 2))}`);
  return [...features];
}
