import { CALIBRATED, type Calibrated } from '../notes/refiners/calibrate.ts';
import type { Alignment, Answer } from './align.ts';
import { type Answered, answeredNotes } from './answered.ts';
import { TAG_TEXTS } from './describe.ts';
import { type Miss, type WrongTag, weightOfTier } from './miss.ts';
import { inventedNotes, lostNotes } from './note-misses.ts';

export interface Misses {
  /** The main things first. */
  readonly lost: readonly Miss[];
  /** The highest ranked first. */
  readonly invented: readonly Miss[];
  /** The surest first. */
  readonly wrongTags: readonly WrongTag[];
  /** Tags that carry no confidence, of the main things first. */
  readonly otherWrongTags: readonly WrongTag[];
}

const OTHER_TAGS = ['character', 'side', 'amount', 'options'] as const;

/** Everything that is wrong in the reading of one critique. */
export function missesOf(answer: Answer, alignment: Alignment): Misses {
  const { name } = answer.critique;
  const answered = answeredNotes(alignment);
  return {
    lost: lostNotes(answer, alignment),
    invented: inventedNotes(answer, alignment),
    wrongTags: answered.flatMap((one) => wrongTags(name, one, CALIBRATED)),
    otherWrongTags: answered.flatMap((one) => wrongTags(name, one, OTHER_TAGS)),
  };
}

/** The misses of many critiques, the worst first and no more than `most` of each kind. */
export function worstOf(all: readonly Misses[], most: number): Misses {
  const worst = <T extends Miss>(kind: (misses: Misses) => readonly T[]): T[] =>
    all
      .flatMap(kind)
      .sort((a, b) => b.weight - a.weight)
      .slice(0, most);
  return {
    lost: worst(({ lost }) => lost),
    invented: worst(({ invented }) => invented),
    wrongTags: worst((misses) => misses.wrongTags),
    otherWrongTags: worst((misses) => misses.otherWrongTags),
  };
}

function wrongTags(
  critique: string,
  { gold, note, verdicts }: Answered,
  tags: readonly (Calibrated | (typeof OTHER_TAGS)[number])[],
): WrongTag[] {
  return tags.flatMap((tag): WrongTag[] => {
    if (verdicts[tag] !== false) return [];
    const [goldText, gotText] = TAG_TEXTS[tag];
    const confidence = isCalibrated(tag) ? note.confidence[tag] : null;
    return [
      {
        critique,
        goldNote: gold.id,
        note: note.id,
        tag,
        confidence,
        gold: goldText(gold.label),
        got: gotText(note),
        words: note.spans.map(({ text }) => text).join(' '),
        weight: confidence ?? weightOfTier(gold.label.tier),
      },
    ];
  });
}

function isCalibrated(tag: string): tag is Calibrated {
  return (CALIBRATED as readonly string[]).includes(tag);
}
