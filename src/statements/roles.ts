import type { Role } from '../basics/terms.ts';
import { likeliest, marginals } from '../language/chain-model.ts';
import type { Language } from '../language/language.ts';
import type { Talk, TokenRange } from '../language/talk.ts';
import type { HeardLine } from './dialogue.ts';
import { statementFeatures } from './statement-features.ts';

/** The labels of the model that reads a whole talk: what a stretch is for, and for notes whether it opens a new point. */
export const TURN_LABELS = ['fix+', 'fix', 'keep+', 'keep', 'why', 'aside', 'shot', 'drop'] as const;
export type TurnLabel = (typeof TURN_LABELS)[number];

/** What a stretch of talk is for. */
export interface Turn {
  readonly role: Role;
  /** How sure the role is, 0 to 1, before calibration. */
  readonly confidence: number;
  /** How likely it is, 0 to 1, that a new point begins here, told from the talk alone. */
  readonly opening: number;
}

/**
 * A taking back is told from this probability on, though something else be likelier: it is rare, so the model is slow to say
 * it, and a wrong one still has to find the point it means before anything is undone.
 */
const TAKES_BACK = 0.3;

const roleOf = (label: string): Role => label.replace('+', '') as Role;

/** Tells the role of each stretch in the light of its neighbours. */
export function findTurns(
  talk: Talk,
  ranges: readonly TokenRange[],
  lines: readonly HeardLine[],
  language: Language,
): Turn[] {
  const model = language.models.get('turns');
  if (!model) return ranges.map(() => ({ role: 'aside', confidence: 0, opening: 0 }));
  const features = statementFeatures(talk, ranges, lines);
  const rows = marginals(model, features);
  const drop = model.labels.indexOf('drop');
  return likeliest(model, features).map((label, i) => {
    const takesBack = (rows[i]?.[drop] ?? 0) >= TAKES_BACK;
    const name = takesBack ? 'drop' : (model.labels[label] ?? 'aside');
    const role = roleOf(name);
    const confidence = model.labels.reduce(
      (sum, other, k) => sum + (roleOf(other) === role ? (rows[i]?.[k] ?? 0) : 0),
      0,
    );
    const fresh = rows[i]?.[model.labels.indexOf(`${role}+`)] ?? 0;
    const opening = confidence > 0 ? Math.min(1, fresh / confidence) : 0;
    return { role, confidence: Math.min(1, confidence), opening };
  });
}
