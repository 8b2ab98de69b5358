import { type Issue, isPart, PAIRED_PARTS, PARTS, type Part, SIDES, type Side } from '../../basics/terms.ts';
import { classify, type Features } from '../../language/chain-model.ts';
import type { Language } from '../../language/language.ts';
import type { Talk } from '../../language/talk.ts';
import type { Evidence } from '../evidence.ts';
import type { BodyPart } from '../note.ts';
import type { Ranked } from './judge.ts';

/** A part that a note may be about, with the features that tell whether it is. */
export interface PartCandidate {
  readonly part: Part;
  readonly features: Features;
}

/** A part is taken as meant from this probability on: a part too many is crossed out sooner than a missing one is missed. */
const MEANT_FROM = 0.34;
/** Faults this likely lend their usual parts to a note that names none. */
const LIKELY_ISSUE = 0.25;

const isSide = (id: string): id is Side => (SIDES as readonly string[]).includes(id);

interface SaidPart {
  count: number;
  readonly statements: Set<number>;
  readonly roles: Set<string>;
  readonly marks: Set<string>;
}

/** A part this close to a phrase for a fault is what the fault is of. */
const NEAR_FAULT = 3;
/** A part this soon after "like a" is the comparison's, not the character's. */
const COMPARISON_REACH = 4;

/**
 * Every part said in a note, and every part of the body that its fault usually lies in, with what speaks for each: how
 * often, how early, in which role and in which surroundings it was said.
 */
export function partCandidates(talk: Talk, evidence: Evidence, issue: Ranked<Issue>): PartCandidate[] {
  const said = saidParts(talk, evidence);
  const order = [...said.keys()];
  const faults = issue.filter(({ probability }) => probability >= LIKELY_ISSUE).map(({ value }) => value);
  const stems = [...evidence.stems].filter((stem) => stem.length > 2);
  return PARTS.flatMap((part): PartCandidate[] => {
    const entry = said.get(part);
    const around = [
      ...order.filter((other) => other !== part).map((other) => `with:${other}:${part}`),
      ...stems.map((stem) => `s:${stem}:${part}`),
    ];
    if (!entry)
      return faults.length === 0
        ? []
        : [{ part, features: [...unsaidFeatures(part, faults, said.size), ...around] }];
    const share = entry.statements.size / Math.max(1, evidence.ranges.length);
    return [
      {
        part,
        features: [
          'said',
          `part:${part}`,
          `count:${Math.min(entry.count, 3)}`,
          `share:${Math.ceil(share * 3)}`,
          `order:${Math.min(order.indexOf(part), 4)}`,
          `kinds:${Math.min(said.size, 5)}`,
          ...(said.size === 1 ? ['only', `only:${part}`] : []),
          ...(entry.statements.has(0) ? ['first-statement'] : []),
          ...[...entry.roles].map((role) => `role:${role}`),
          ...(entry.roles.size === 1 && entry.roles.has('why') ? ['reason-only'] : []),
          ...entry.marks,
          ...around,
          ...faults.map((fault) => `fault:${fault}:${part}`),
        ],
      },
    ];
  });
}

function unsaidFeatures(part: Part, faults: readonly Issue[], others: number): Features {
  return [
    'unsaid',
    `unsaid:${part}`,
    ...faults.map((fault) => `usual:${fault}:${part}`),
    ...(others === 0 ? faults.map((fault) => `alone:${fault}:${part}`) : ['others-said']),
  ];
}

function saidParts(talk: Talk, evidence: Evidence): Map<Part, SaidPart> {
  const said = new Map<Part, SaidPart>();
  const faults = evidence.hits.filter((hit) => hit.lexicon.startsWith('issues/'));
  for (const hit of evidence.hits) {
    if (hit.lexicon !== 'parts' || !isPart(hit.means)) continue;
    const entry = said.get(hit.means) ?? {
      count: 0,
      statements: new Set(),
      roles: new Set(),
      marks: new Set(),
    };
    const at = evidence.ranges.findIndex((range) => hit.first >= range.first && hit.last <= range.last);
    entry.count += 1;
    entry.statements.add(at);
    entry.roles.add(evidence.statements[at]?.role ?? '');
    const form = (i: number): string => talk.tokens[i]?.form ?? '';
    entry.marks.add(`prev:${form(hit.first - 1)}`).add(`next:${form(hit.last + 1)}`);
    if (faults.some((fault) => fault.first <= hit.last + NEAR_FAULT && fault.last >= hit.first - NEAR_FAULT))
      entry.marks.add('near-fault');
    if (faults.some((fault) => fault.first <= hit.first && fault.last >= hit.last))
      entry.marks.add('in-fault');
    if (hit.first - (evidence.ranges[at]?.first ?? 0) <= 2) entry.marks.add('opens-statement');
    const compared = evidence.hits.some(
      (other) =>
        other.means === 'compares' && other.first < hit.first && hit.first - other.last <= COMPARISON_REACH,
    );
    if (compared) entry.marks.add('compared');
    if (evidence.hits.some((other) => other.lexicon === 'sides' && Math.abs(other.first - hit.first) <= 2))
      entry.marks.add('sided');
    said.set(hit.means, entry);
  }
  return said;
}

/** The parts a note is about, with the side of each where it was said, and how sure the least sure of them is. */
export function findBody(
  talk: Talk,
  evidence: Evidence,
  issue: Ranked<Issue>,
  language: Language,
): { body: BodyPart[]; confidence: number } {
  const model = language.models.get('body');
  const judged = partCandidates(talk, evidence, issue).map(({ part, features }) => ({
    part,
    said: features.includes('said'),
    sided: features.includes('sided'),
    likely: model ? (classify(model, features).get('in') ?? 0) : features.includes('said') ? 0.8 : 0,
  }));
  const likely = judged.filter((one) => one.likely >= MEANT_FROM);
  // A part that was never said is only lent where none was.
  const kept = likely.some((one) => one.said) ? likely.filter((one) => one.said) : likely;
  const side = findSide(evidence, issue);
  // A side said beside one part is not the side of the others.
  const beside = kept.some(({ part, sided }) => sided && PAIRED_PARTS.has(part));
  const body = kept.map(
    ({ part, sided }): BodyPart => ({
      part,
      side: PAIRED_PARTS.has(part) && (sided || !beside) ? side : null,
    }),
  );
  const sure = judged.filter(({ likely }) => likely > 0.02).map(({ likely }) => Math.max(likely, 1 - likely));
  return { body, confidence: sure.length === 0 ? 0.5 : Math.min(...sure) };
}

/** The side that a note is about: the one said most, the later of two said equally often, both where both sides do alike. */
export function findSide(evidence: Evidence, issue: Ranked<Issue>): Side | null {
  const counts = new Map<Side, number>();
  for (const hit of evidence.hits) {
    if (hit.lexicon === 'sides' && isSide(hit.means)) counts.set(hit.means, (counts.get(hit.means) ?? 0) + 1);
  }
  if (issue[0]?.value === 'twinning') return 'both';
  const [left, right, both] = [counts.get('left') ?? 0, counts.get('right') ?? 0, counts.get('both') ?? 0];
  if (left === 0 && right === 0) return both > 0 ? 'both' : null;
  if (left !== right) return left > right ? 'left' : 'right';
  return evidence.hits.find((hit) => hit.lexicon === 'sides' && hit.means !== 'both')?.means === 'left'
    ? 'left'
    : 'right';
}
