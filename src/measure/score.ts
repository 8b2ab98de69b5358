import { ROLES, type Role } from '../basics/terms.ts';
import { cohensKappa, fMeasure, mean, share } from './agreement.ts';
import { reliabilityOf } from './reliability.ts';
import type { Pair, Tally } from './tally.ts';

/** A figure is a share from 0 to 1 unless its name says another thing; null where there is nothing to reckon it from. */
export interface Figures {
  readonly notePrecision: number | null;
  readonly noteRecall: number | null;
  readonly noteF: number;
  /** The mean F of the roles that occur in the labels. */
  readonly roleMacroF: number | null;
  /** F of each role of a statement; null for one that neither the labels nor the statements have. */
  readonly roles: Readonly<Record<Role, number | null>>;
  readonly noteRole: number | null;
  readonly character: number | null;
  readonly bodyF: number;
  readonly side: number | null;
  readonly issueTop1: number | null;
  readonly issueTop3: number | null;
  readonly basisKappa: number | null;
  readonly strengthKappa: number | null;
  readonly framesRecall: number | null;
  readonly framesPrecision: number | null;
  readonly amountRecall: number | null;
  readonly amountPrecision: number | null;
  readonly options: number | null;
  readonly withdrawnHandled: number | null;
  /** Live notes that were taken for taken back: a number of notes. */
  readonly withdrawnFalse: number;
  readonly ndcg10: number | null;
  readonly calibrationError: number | null;
  readonly flaggedShare: number | null;
  /** Of the notes that have something wrong, those that a person is asked to look at. */
  readonly errorsCaught: number | null;
}

/**
 * The figures of a tally, of one critique or of many. Tags are judged on the notes that were found; precision of frames and
 * amounts is over those that the notes found give. Of many critiques nDCG is the mean, all else is counted together.
 */
export function figuresOf(tally: Tally): Figures {
  const { counts } = tally;
  const roles = roleFigures(tally.roles);
  const labelled = new Set(tally.roles.map(([gold]) => gold));
  return {
    notePrecision: share(counts.found, counts.given),
    noteRecall: share(counts.found, counts.gold),
    noteF: fMeasure(counts.found, counts.given, counts.gold),
    roleMacroF: mean(ROLES.filter((role) => labelled.has(role)).map((role) => roles[role] ?? 0)),
    roles,
    noteRole: share(counts.role, counts.found),
    character: share(counts.character, counts.found),
    bodyF: fMeasure(counts.partsFound, counts.partsGiven, counts.partsGold),
    side: share(counts.side, counts.sideAsked),
    issueTop1: share(counts.issue, counts.fixes),
    issueTop3: share(counts.issueAmongThree, counts.fixes),
    basisKappa: cohensKappa(tally.basis),
    strengthKappa: cohensKappa(tally.strength),
    framesRecall: share(counts.frames, counts.framesAsked),
    framesPrecision: share(counts.frames, counts.framesGiven),
    amountRecall: share(counts.amount, counts.amountAsked),
    amountPrecision: share(counts.amount, counts.amountGiven),
    options: share(counts.options, counts.fixes),
    withdrawnHandled: share(counts.takenBack, counts.takenBackAsked),
    withdrawnFalse: counts.lostToTakingBack,
    ndcg10: mean(tally.gains),
    calibrationError: reliabilityOf(tally.claims).error,
    flaggedShare: share(counts.flagged, counts.found),
    errorsCaught: share(counts.wrongFlagged, counts.wrong),
  };
}

function roleFigures(pairs: readonly Pair[]): Record<Role, number | null> {
  const figures = ROLES.map((role) => {
    const there = pairs.filter(([gold]) => gold === role).length;
    const given = pairs.filter(([, got]) => got === role).length;
    const hits = pairs.filter(([gold, got]) => gold === role && got === role).length;
    return [role, there + given === 0 ? null : fMeasure(hits, given, there)];
  });
  return Object.fromEntries(figures) as Record<Role, number | null>;
}
