import type { Features } from '../language/chain-model.ts';
import { grammarOf } from '../language/grammar.ts';
import { hitsWithin, numbersWithin, pauseBefore, type Talk, type TokenRange } from '../language/talk.ts';
import type { HeardLine } from './dialogue.ts';
import { stepOf } from './split.ts';

const LENGTH_STEPS = [3, 6, 10, 16, 24];
const PAUSE_STEPS = [0.25, 0.6, 1.2, 2.5];
const SHARE_STEPS = [0.05, 0.3, 0.55, 0.8];
const PLACE_STEPS = [0.04, 0.12, 0.75, 0.9, 0.97];
/** How many statements back the last body part still hangs in the air. */
const PART_MEMORY = 5;
/** Words in a row that make a statement a repetition of another one. */
const VERBATIM_WORDS = 4;

/** What is known of one stretch before its neighbours are heard. */
interface Stretch {
  readonly range: TokenRange;
  readonly cues: readonly string[];
  readonly parts: ReadonlySet<string>;
  readonly issues: ReadonlySet<string>;
  readonly stems: readonly string[];
}

function readStretch(talk: Talk, range: TokenRange): Stretch {
  const hits = hitsWithin(talk, range);
  const cues = new Set<string>();
  const parts = new Set<string>();
  const issues = new Set<string>();
  for (const { lexicon, means } of hits) {
    if (lexicon === 'parts') parts.add(means);
    else if (lexicon.startsWith('issues/')) issues.add(means);
    else cues.add(`${lexicon}:${means}`);
  }
  const stems = talk.tokens.slice(range.first, range.last + 1).map((token) => token.stem);
  return { range, cues: [...cues], parts, issues, stems };
}

/** How much of a stretch is the shot's own dialogue, 0 to 1. */
export function dialogueShare(range: TokenRange, lines: readonly HeardLine[]): number {
  let covered = 0;
  for (const line of lines)
    covered += Math.max(0, Math.min(range.last, line.last) - Math.max(range.first, line.first) + 1);
  return covered / (range.last - range.first + 1);
}

function verbatim(stretches: readonly Stretch[]): boolean[] {
  const counts = new Map<string, number>();
  for (const { stems } of stretches) counts.set(stems.join(' '), (counts.get(stems.join(' ')) ?? 0) + 1);
  return stretches.map(
    ({ stems }) => stems.length >= VERBATIM_WORDS && (counts.get(stems.join(' ')) ?? 0) > 1,
  );
}

function shared(a: ReadonlySet<string>, b: ReadonlySet<string>): boolean {
  return [...a].some((item) => b.has(item));
}

/** Features of each stretch of a talk for the model that tells what it is for and whether it opens a new point. */
export function statementFeatures(
  talk: Talk,
  ranges: readonly TokenRange[],
  lines: readonly HeardLine[],
): Features[] {
  const stretches = ranges.map((range) => readStretch(talk, range));
  const repeated = verbatim(stretches);
  const total = talk.tokens.length;
  let summing = false;
  return stretches.map((stretch, i) => {
    const { range, cues, parts, issues, stems } = stretch;
    const before = stretches[i - 1];
    const after = stretches[i + 1];
    const later = stretches[i + 2];
    const place = range.first / Math.max(1, total);
    if (place > 0.6 && cues.includes('order:sums-up')) summing = true;
    const recent = stretches.slice(Math.max(0, i - PART_MEMORY), i).reverse();
    const lastParts = recent.find((other) => other.parts.size > 0)?.parts;
    const lastIssues = recent.find((other) => other.issues.size > 0)?.issues;
    const numbers = numbersWithin(talk, range);
    const text = talk.tokens.slice(range.first, range.last + 1);
    return [
      'always',
      ...cues.map((cue) => `cue:${cue}`),
      ...(before?.cues ?? []).map((cue) => `before:${cue}`),
      ...(after?.cues ?? []).map((cue) => `after:${cue}`),
      ...(later?.cues ?? []).filter((cue) => cue.startsWith('roles:')).map((cue) => `later:${cue}`),
      ...[...issues].map((issue) => `issue:${issue}`),
      `issues:${Math.min(issues.size, 3)}`,
      ...(parts.size > 0 ? ['part'] : ['no-part']),
      `parts:${lastParts === undefined ? 'first' : parts.size === 0 ? 'none' : shared(parts, lastParts) ? 'same' : 'other'}`,
      `faults:${lastIssues === undefined ? 'first' : issues.size === 0 ? 'none' : shared(issues, lastIssues) ? 'same' : 'other'}`,
      ...(numbers.length > 0 ? ['number', `numbers:${Math.min(numbers.length, 3)}`] : []),
      ...(before && numbersWithin(talk, before.range).length > 0 ? ['before-number'] : []),
      ...stems.map((stem) => `w:${stem}`),
      ...stems.slice(1).map((stem, k) => `b:${stems[k]}_${stem}`),
      `first:${stems[0]}`,
      `first:${stems.slice(0, 2).join('_')}`,
      `last:${stems.at(-1)}`,
      `length:${stepOf(stems.length, LENGTH_STEPS)}`,
      `place:${stepOf(place, PLACE_STEPS)}`,
      `pause:${stepOf(pauseBefore(talk, range.first), PAUSE_STEPS)}`,
      `pause-after:${stepOf(pauseBefore(talk, range.last + 1), PAUSE_STEPS)}`,
      `dialogue:${stepOf(dialogueShare(range, lines), SHARE_STEPS)}`,
      ...(summing ? ['summing-up'] : []),
      ...(repeated[i] ? ['verbatim'] : []),
      ...grammarOf(text.map((token) => token.form).join(' ')).map((mark) => `grammar:${mark}`),
      ...(text.some((token) => token.stop === '?') ? ['question'] : []),
      ...(text.at(-1)?.stop === '' || text.at(-1)?.stop === ',' ? ['runs-on'] : []),
      ...(before && talk.tokens[before.range.last]?.stop === ',' ? ['carried-on'] : []),
    ];
  });
}
