import type { Figures } from './score.ts';

/** A figure as a column of the report. */
export interface Column {
  readonly heading: string;
  /** What the heading stands for. */
  readonly says: string;
  readonly of: (figures: Figures) => number | null;
  /** What is to be reached on critiques that were not used in development; left out where nothing was set. */
  readonly reach?: number;
  /** Whether it is a number of things and no share. */
  readonly isCount?: true;
}

export interface ColumnGroup {
  readonly title: string;
  readonly columns: readonly Column[];
}

/** The tables of figures, each narrow enough for a terminal. To add a figure: one line here. */
// biome-ignore format: one line for each column
export const COLUMN_GROUPS: readonly ColumnGroup[] = [
  {
    title: 'Notes found, and what statements are for',
    columns: [
      { heading: 'note P', says: 'precision of notes', of: (f) => f.notePrecision },
      { heading: 'note R', says: 'recall of notes', of: (f) => f.noteRecall },
      { heading: 'note F', says: 'both', of: (f) => f.noteF, reach: 0.8 },
      { heading: 'roles', says: 'mean F of the roles', of: (f) => f.roleMacroF, reach: 0.72 },
      { heading: 'fix', says: 'F of each role', of: (f) => f.roles.fix },
      { heading: 'keep', says: '', of: (f) => f.roles.keep },
      { heading: 'why', says: '', of: (f) => f.roles.why },
      { heading: 'aside', says: '', of: (f) => f.roles.aside },
      { heading: 'shot', says: '', of: (f) => f.roles.shot },
      { heading: 'drop', says: '', of: (f) => f.roles.drop },
    ],
  },
  {
    title: 'Tags of the notes found',
    columns: [
      { heading: 'role', says: 'fix or keep', of: (f) => f.noteRole },
      { heading: 'char', says: 'character', of: (f) => f.character, reach: 0.9 },
      { heading: 'body', says: 'F of body parts', of: (f) => f.bodyF, reach: 0.85 },
      { heading: 'side', says: 'left, right or both', of: (f) => f.side },
      { heading: 'iss 1', says: 'issue right first', of: (f) => f.issueTop1, reach: 0.65 },
      { heading: 'iss 3', says: 'issue among the first three', of: (f) => f.issueTop3, reach: 0.85 },
      { heading: 'basis', says: 'kappa', of: (f) => f.basisKappa, reach: 0.5 },
      { heading: 'stren', says: 'strength, kappa', of: (f) => f.strengthKappa, reach: 0.45 },
      { heading: 'fr R', says: 'recall of frames said aloud', of: (f) => f.framesRecall, reach: 0.95 },
      { heading: 'fr P', says: 'their precision', of: (f) => f.framesPrecision, reach: 0.95 },
      { heading: 'am R', says: 'recall of amounts', of: (f) => f.amountRecall, reach: 0.85 },
      { heading: 'am P', says: 'their precision', of: (f) => f.amountPrecision },
      { heading: 'opts', says: 'number of options', of: (f) => f.options },
    ],
  },
  {
    title: 'Takings back, ranking, and how far the sheet can be relied on',
    columns: [
      { heading: 'taken back', says: 'honoured', of: (f) => f.withdrawnHandled, reach: 0.85 },
      { heading: 'lost to it', says: 'live notes taken for taken back', of: (f) => f.withdrawnFalse, reach: 0, isCount: true },
      { heading: 'nDCG@10', says: 'ranking', of: (f) => f.ndcg10, reach: 0.8 },
      { heading: 'cal err', says: 'expected calibration error, 0 is best', of: (f) => f.calibrationError, reach: 0.06 },
      { heading: 'flagged', says: 'share of notes to look at', of: (f) => f.flaggedShare, reach: 0.2 },
      { heading: 'caught', says: 'share of the wrong notes that are flagged', of: (f) => f.errorsCaught, reach: 0.6 },
    ],
  },
];
