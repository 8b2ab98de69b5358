/** What the lexicons say before any critique is seen, and how hard the fit is held to it. */

const LEXICON_SAY = 1.5;

/** A phrase for a fault speaks for that fault. */
export function issuePrior(feature: string, label: string): number {
  return feature === `issue:${label}` || feature === `issue-again:${label}` ? LEXICON_SAY : 0;
}

/** Single words and pairs of words are many and say little each; they are pulled back harder than a lexicon's cues. */
const WORDS = /^(w|b|first|last):/;
const WORD_PULL = 3;

/** How hard a feature's weights are held to their prior. @param pull That of a lexicon's cue. */
export function pullOf(feature: string, pull: number): number {
  return WORDS.test(feature) ? pull * WORD_PULL : pull;
}

/** What a cue says of a statement's role before any critique is seen. */
const CUE_SAY: Readonly<Record<string, readonly [labels: readonly string[], weight: number]>> = {
  'roles:leave-alone': [['keep', 'keep+'], 1.5],
  'roles:praises': [['keep', 'keep+'], 0.7],
  'roles:fixed-since-last': [['keep', 'keep+'], 1],
  'roles:takes-back': [['drop'], 2],
  'roles:gives-reason': [['why'], 1],
  'roles:asks-change': [['fix', 'fix+'], 1],
  'roles:names-fault': [['fix', 'fix+'], 0.7],
  'roles:still-there': [['fix', 'fix+'], 0.5],
  'roles:warmth': [['aside'], 1],
  'roles:greets': [['aside'], 1.5],
  'roles:says-goodbye': [['aside'], 1.5],
  'roles:playback-talk': [['aside'], 1],
  'roles:chatter': [['aside'], 1],
  'roles:laughs': [['aside'], 0.7],
};
/** A cue in the statement before or after says less than one's own. */
const NEIGHBOUR_SAY = 0.35;

/** The weight that a cue has for a role before any critique is seen. */
export function turnPrior(feature: string, label: string): number {
  const [where, ...cue] = feature.split(':');
  const say = CUE_SAY[cue.join(':')];
  if (!say?.[0].includes(label)) return 0;
  if (where === 'cue') return say[1];
  return (where === 'after' || where === 'before') && label.startsWith('keep') ? say[1] * NEIGHBOUR_SAY : 0;
}

/** A range or a number after the word "frame" is a frame until the critiques say otherwise. */
const FRAME_SAY: Readonly<Record<string, number>> = {
  'frame-word': 1.5,
  'kind:range': 1.5,
  'kind:edge': 1.5,
  'kind:time': 1,
  'place-word': 0.5,
};

export function framePrior(feature: string, label: string): number {
  return label === 'frame' ? (FRAME_SAY[feature] ?? 0) : 0;
}

/** A quantity beside a word that asks for more, less, sooner or later is the change until the critiques say otherwise. */
const AMOUNT_SAY: Readonly<Record<string, number>> = { 'asked:true': 1.5, 'asked:false': 1 };

export function amountPrior(feature: string, label: string): number {
  return label === 'change' ? (AMOUNT_SAY[feature] ?? 0) : 0;
}
