import { type Issue, PAIRED_PARTS, type Part } from '../basics/terms.ts';
import type { DraftNote } from './draft.ts';
import { type Evidence, evidenceOf } from './evidence.ts';
import { findAmount } from './finders/amount.ts';
import { findBody } from './finders/body.ts';
import { findOptions } from './finders/options.ts';
import { type Placing, placeNote } from './playhead/place-note.ts';
import type { Point } from './points.ts';
import { type Reading, sketch, sumsUp } from './reading.ts';
import { type Calibration, calibrated } from './refiners/calibrate.ts';
import { priorityOf } from './refiners/rank.ts';
import { titleOf } from './title.ts';

/** How many other readings of the fault are kept beside the likeliest. */
const ALTERNATIVES = 2;

/** Tags one point. */
export function draftNote(
  point: Point,
  reading: Reading,
  calibration: Calibration,
  placing: Placing,
): DraftNote {
  const { talk, language, shot } = reading;
  const known = sketch(
    reading,
    point.role,
    point.mentions.map((mention) => mention.statements),
  );
  const { evidence, judgement } = known;
  const [issue, ...others] = judgement.issue;
  const likeliest: Issue | null = issue && issue.probability > 0 ? issue.value : null;
  const { body, confidence: bodySure } = findBody(talk, evidence, judgement.issue, language);
  const amount =
    point.role === 'fix' ? findAmount(talk, evidence, likeliest, language, reading.quantities) : null;
  const roleSure = mean(
    evidence.statements.filter((one) => one.role === point.role).map((one) => one.confidence),
  );
  const sure = (tag: Parameters<typeof calibrated>[1], score: number): number =>
    round(calibrated(calibration, tag, score), 2);
  const said = known.frames;
  const placed = placeNote(reading, evidence, said, sure('frames', said ? said.confidence : 0.99), placing);
  const statements = [...evidence.statements, ...point.takenBack].sort((a, b) => a.start - b.start);
  return {
    title: titleOf(
      {
        role: point.role,
        issue: likeliest,
        body,
        amount,
        direction: directionOf(evidence),
        own: ownWords(reading, evidence),
        character: shot.characters.length > 1 ? known.character : null,
      },
      language,
    ),
    role: point.role,
    basis: judgement.basis[0]?.value ?? 'technical',
    strength: judgement.strength[0]?.value ?? 'should',
    character: known.character,
    body,
    issue: likeliest,
    issueAlternatives: others.slice(0, ALTERNATIVES).map((one) => one.value),
    frames: placed.frames,
    amount,
    options: point.role === 'fix' ? findOptions(talk, evidence, language) : [],
    withdrawn: point.takenBack.length > 0,
    mentions: point.mentions.length,
    spans: evidence.statements.map(({ start, end, text }) => ({ start, end, text })),
    priority: priorityOf(judgement, evidence, point.mentions.length, lastMentionSums(point, reading)),
    confidence: {
      role: sure('role', roleSure),
      issue: sure('issue', issue?.probability ?? 0),
      body: sure('body', bodySure),
      basis: sure('basis', judgement.basis[0]?.probability ?? 0),
      strength: sure('strength', judgement.strength[0]?.probability ?? 0),
      frames: placed.confidence,
    },
    joinedBy: point.joinedBy,
    begun: evidence.statements[0]?.start ?? 0,
    stood: placed.stood,
    guessedFrom: placed.guessedFrom,
    moments: momentsIn(evidence),
    statementIds: statements.map((statement) => statement.id),
  };
}

/** Moments that two notes may mean alike; turns and stops are too many in a shot (2 of 20 turns lay within six frames). */
const MOMENTS: ReadonlySet<string> = new Set(['landing', 'takeoff']);

function momentsIn({ hits }: Evidence): Set<string> {
  const named = hits.filter(({ lexicon, means }) => lexicon === 'pointing' && MOMENTS.has(means));
  return new Set(named.map(({ means }) => means));
}

function lastMentionSums(point: Point, reading: Reading): boolean {
  const last = point.mentions.at(-1);
  if (point.mentions.length < 2 || !last) return false;
  return sumsUp(reading, evidenceOf(reading.talk, last.statements).ranges);
}

function directionOf(evidence: Evidence): 'more' | 'less' | null {
  const count = (means: string): number =>
    evidence.hits.filter((hit) => hit.lexicon === 'changes' && hit.means === means).length;
  const [more, less] = [count('add'), count('remove')];
  return more === less ? null : more > less ? 'more' : 'less';
}

/** Parts that a title calls by the mentor's own word. */
const OWN_WORDS: ReadonlySet<string> = new Set<Part>(['prop', 'cloth', 'hair', ...PAIRED_PARTS]);

/** The mentor's own noun for what has no name on a body, the prop, the cloth, and for what comes in twos. The word said most. */
function ownWords({ talk }: Reading, evidence: Evidence): Map<string, string> {
  const counts = new Map<string, Map<string, number>>();
  for (const hit of evidence.hits) {
    if (hit.lexicon !== 'parts' || hit.first !== hit.last) continue;
    if (!OWN_WORDS.has(hit.means)) continue;
    const form = talk.tokens[hit.first]?.form ?? '';
    const forms = counts.get(hit.means) ?? new Map<string, number>();
    forms.set(form, (forms.get(form) ?? 0) + 1);
    counts.set(hit.means, forms);
  }
  return new Map(
    [...counts].map(([part, forms]) => [part, [...forms].sort((a, b) => b[1] - a[1])[0]?.[0] ?? part]),
  );
}

function mean(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;
}

function round(value: number, places: number): number {
  return Math.round(value * 10 ** places) / 10 ** places;
}
