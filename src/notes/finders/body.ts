import { type Issue, PAIRED_PARTS, PARTS, type Part, SIDES, type Side } from '../../basics/terms.ts';
import { classify, type Features } from '../../language/chain-model.ts';
import type { Language } from '../../language/language.ts';
import type { Evidence } from '../evidence.ts';
import type { BodyPart } from '../note.ts';
import type { Ranked } from './judge.ts';

/** A part that a note may be about, with the features that tell whether it is. */
export interface PartCandidate {
  readonly part: Part;
  readonly features: Features;
}

/** Faults this likely lend their usual parts to a note that names none. */
const LIKELY_ISSUE = 0.25;

const isPart = (id: string): id is Part => (PARTS as readonly string[]).includes(id);
const isSide = (id: string): id is Side => (SIDES as readonly string[]).includes(id);

/**
 * Every part said in a note, and every part of the body that its fault usually lies in, with what speaks for each:
 * how often, how early, in which role it was said.
 */
export function partCandidates(evidence: Evidence, issue: Ranked<Issue>): PartCandidate[] {
  const said = new Map<Part, { count: number; statements: Set<number>; roles: Set<string> }>();
  let order = 0;
  const rankOf = new Map<Part, number>();
  for (const hit of evidence.hits) {
    if (hit.lexicon !== 'parts' || !isPart(hit.means)) continue;
    const entry = said.get(hit.means) ?? { count: 0, statements: new Set<number>(), roles: new Set<string>() };
    const at = evidence.ranges.findIndex((range) => hit.first >= range.first && hit.last <= range.last);
    entry.count += 1;
    entry.statements.add(at);
    entry.roles.add(evidence.statements[at]?.role ?? '');
    if (!rankOf.has(hit.means)) rankOf.set(hit.means, order++);
    said.set(hit.means, entry);
  }
  const faults = issue.filter(({ probability }) => probability >= LIKELY_ISSUE).map(({ value }) => value);
  return PARTS.flatMap((part): PartCandidate[] => {
    const entry = said.get(part);
    if (!entry) {
      if (faults.length === 0) return [];
      return [
        {
          part,
          features: ['unsaid', `unsaid:${part}`, ...faults.map((fault) => `usual:${fault}:${part}`), ...(said.size === 0 ? faults.map((fault) => `alone:${fault}:${part}`) : ['others-said'])],
        },
      ];
    }
    const share = entry.statements.size / Math.max(1, evidence.ranges.length);
    return [
      {
        part,
        features: [
          'said',
          `part:${part}`,
          `count:${Math.min(entry.count, 3)}`,
          `share:${Math.ceil(share * 3)}`,
          `order:${Math.min(rankOf.get(part) ?? 0, 4)}`,
          `kinds:${Math.min(said.size, 5)}`,
          ...(said.size === 1 ? ['only'] : []),
          ...(entry.statements.has(0) ? ['first-statement'] : []),
          ...[...entry.roles].map((role) => `role:${role}`),
          ...(entry.roles.size === 1 && entry.roles.has('why') ? ['reason-only'] : []),
          ...faults.map((fault) => `fault:${fault}:${part}`),
        ],
      },
    ];
  });
}

/** The parts a note is about, with the side of each where it was said, and how sure the least sure of them is. */
export function findBody(evidence: Evidence, issue: Ranked<Issue>, language: Language): { body: BodyPart[]; confidence: number } {
  const model = language.models.get('body');
  const judged = partCandidates(evidence, issue).map(({ part, features }) => ({
    part,
    likely: model ? (classify(model, features).get('in') ?? 0) : features.includes('said') ? 0.8 : 0,
  }));
  const kept = judged.filter(({ likely }) => likely >= 0.5);
  const side = findSide(evidence, issue);
  const body = kept.map(({ part }): BodyPart => ({ part, side: PAIRED_PARTS.has(part) ? side : null }));
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
  return evidence.hits.find((hit) => hit.lexicon === 'sides' && hit.means !== 'both')?.means === 'left' ? 'left' : 'right';
}
