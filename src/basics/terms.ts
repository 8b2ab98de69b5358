/** The fixed ids of the trade's vocabulary that a sheet may hold. Their synonyms are data, in src/lexicons. */

export const ROLES = ['fix', 'keep', 'why', 'aside', 'shot', 'drop'] as const;
export type Role = (typeof ROLES)[number];

export const BASES = ['technical', 'taste'] as const;
export type Basis = (typeof BASES)[number];

export const STRENGTHS = ['must', 'should', 'could'] as const;
export type Strength = (typeof STRENGTHS)[number];

/** Always the character's own side. */
export const SIDES = ['left', 'right', 'both'] as const;
export type Side = (typeof SIDES)[number];

// biome-ignore format: a list that is read down the body
export const PARTS = [
  'head', 'face', 'brow', 'eyes', 'eyelids', 'nose', 'mouth', 'jaw', 'cheek', 'ear', 'hair', 'neck',
  'shoulder', 'chest', 'spine', 'belly', 'hips',
  'arm', 'elbow', 'forearm', 'wrist', 'hand', 'finger', 'thumb',
  'leg', 'thigh', 'knee', 'shin', 'ankle', 'foot', 'heel', 'toe',
  'tail', 'wing', 'body', 'prop', 'cloth', 'camera',
] as const;
export type Part = (typeof PARTS)[number];

/** Parts that a body has on both sides, or that have a left and a right end. */
// biome-ignore format: a list that is read down the body
export const PAIRED_PARTS: ReadonlySet<Part> = new Set([
  'brow', 'eyes', 'eyelids', 'mouth', 'cheek', 'ear',
  'shoulder', 'arm', 'elbow', 'forearm', 'wrist', 'hand', 'finger', 'thumb', 'wing',
  'hips', 'leg', 'thigh', 'knee', 'shin', 'ankle', 'foot', 'heel', 'toe',
]);

// biome-ignore format: one line for each family of faults
export const ISSUES = [
  'pop', 'timing', 'spacing', 'hold', 'arc', 'anticipation', 'overlap',
  'weight', 'contact', 'pose', 'silhouette', 'tangent', 'twinning',
  'staging', 'eyeline', 'blink', 'expression', 'lipsync', 'acting', 'exaggeration',
  'continuity', 'cloth',
] as const;
export type Issue = (typeof ISSUES)[number];

export const AMOUNT_UNITS = ['frames', 'seconds', 'degrees', 'percent'] as const;
export type AmountUnit = (typeof AMOUNT_UNITS)[number];

/** What the amount does: add frames, take them away, hold for so long, move earlier or later. */
export const AMOUNT_ACTIONS = ['add', 'remove', 'hold', 'earlier', 'later'] as const;
export type AmountAction = (typeof AMOUNT_ACTIONS)[number];

const ISSUE_IDS: ReadonlySet<string> = new Set(ISSUES);
const PART_IDS: ReadonlySet<string> = new Set(PARTS);

export function isIssue(id: string): id is Issue {
  return ISSUE_IDS.has(id);
}

export function isPart(id: string): id is Part {
  return PART_IDS.has(id);
}
