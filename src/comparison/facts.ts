import { type Issue, isIssue, isPart, type Side } from '../basics/terms.ts';
import type { Language } from '../language/language.ts';
import type { Hit } from '../language/lexicon.ts';
import { type Token, tokensOfText } from '../language/tokens.ts';
import type { Note } from '../notes/note.ts';
import { wordWeights } from '../notes/reading.ts';

/** What tells whether two stretches of talk are about the same point. */
export interface Facts {
  readonly character: string | null;
  readonly parts: ReadonlySet<string>;
  readonly sides: ReadonlySet<Side>;
  readonly issues: ReadonlySet<Issue>;
  /** Shot frames, both ends included. */
  readonly frames: { readonly first: number; readonly last: number } | null;
  /** How much each word's stem tells, 0 to 1. */
  readonly words: ReadonlyMap<string, number>;
}

/** Reads words as the stages do, and says what they are about. */
export class FactReader {
  private readonly language: Language;
  private readonly weight: (stem: string) => number;

  constructor(language: Language) {
    this.language = language;
    this.weight = wordWeights(language);
  }

  hits(tokens: readonly Token[]): Hit[] {
    return [...this.language.lexicons.values()].flatMap((lexicon) => lexicon.find(tokens));
  }

  /** A note by its tags, and by its words where they say more. */
  ofNote(note: Note): Facts {
    const words = this.ofTokens(
      tokensOfText([note.title, ...note.spans.map(({ text }) => text)].join(' . ')),
    );
    const { body, issue, issueAlternatives, frames, character } = note;
    const sides = body.flatMap(({ side }) => side ?? []);
    return {
      ...words,
      character,
      parts: body.length > 0 ? new Set(body.map(({ part }) => part)) : words.parts,
      sides: new Set(body.length > 0 ? sides : words.sides),
      issues: issue ? new Set([issue, ...issueAlternatives]) : words.issues,
      frames,
    };
  }

  /** A stretch of talk by its words alone. */
  ofTokens(tokens: readonly Token[], hits: readonly Hit[] = this.hits(tokens)): Facts {
    const of = (lexicon: string): string[] =>
      hits.filter((hit) => hit.lexicon === lexicon).map(({ means }) => means);
    const sides = of('sides').flatMap((side): Side[] =>
      side === 'left' || side === 'right' || side === 'both' ? [side] : [],
    );
    const issues = hits.flatMap(({ lexicon, means }) =>
      lexicon.startsWith('issues/') && isIssue(means) ? [means] : [],
    );
    const words = tokens.flatMap(({ stem }) => {
      const weight = this.weight(stem);
      return weight > 0 ? [[stem, weight] as const] : [];
    });
    return {
      character: null,
      parts: new Set(of('parts').filter(isPart)),
      sides: new Set(sides),
      issues: new Set(issues),
      frames: null,
      words: new Map(words),
    };
  }
}
