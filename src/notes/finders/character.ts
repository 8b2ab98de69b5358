import type { Character, Shot } from '../../basics/shot.ts';
import { classify, type Features } from '../../language/chain-model.ts';
import type { Language } from '../../language/language.ts';
import type { Talk, TokenRange } from '../../language/talk.ts';
import { formsOf } from '../../language/tokens.ts';
import { stepOf } from '../../statements/split.ts';

/** A place where a character is named or meant by a word of theirs. */
export interface CharacterMention extends TokenRange {
  readonly character: Character;
  /** True for a name or a role, false for a word that several characters share: a pronoun. */
  readonly certain: boolean;
}

/** Every place where a word of a character stands. A word that two share goes to whoever of them was named last. */
export function findCharacters(talk: Talk, shot: Shot): CharacterMention[] {
  const owners = new Map<string, Character[]>();
  let longest = 0;
  for (const character of shot.characters) {
    const names = [character.name.replace(ARTICLE, ''), ...character.words].map(formsOf);
    for (const forms of names) longest = Math.max(longest, forms.length + 1);
    for (const name of new Set(names.map((forms) => forms.join('')))) {
      owners.set(name, [...(owners.get(name) ?? []), character]);
    }
  }
  const found: CharacterMention[] = [];
  let focus: Character | undefined;
  const { tokens } = talk;
  for (let i = 0; i < tokens.length; i++) {
    for (let length = Math.min(longest, tokens.length - i); length > 0; length--) {
      // Written together: a recogniser hears "the deck hand" where the shot file says deckhand.
      const name = tokens
        .slice(i, i + length)
        .map((token) => token.form)
        .join('');
      const named = owners.get(name) ?? owners.get(name.replace(/s$/, ''));
      if (!named) continue;
      const meant = named.length === 1 ? named[0] : named.find((character) => character === focus);
      if (meant) {
        found.push({ first: i, last: i + length - 1, character: meant, certain: named.length === 1 });
        focus = meant;
      }
      i += length - 1;
      break;
    }
  }
  return found;
}

const ARTICLE = /^(the|a|an)\s+/i;

/** Somebody, or nobody, that a note may be about, with what speaks for it. */
export interface CharacterCandidate {
  readonly name: string | null;
  readonly features: Features;
}

/** Shortest word that is a name or a role rather than a pronoun. */
const SHORTEST_NAME = 5;
const SHARE_STEPS = [0.1, 0.3, 0.5, 0.7, 0.9];

/**
 * Every character of the shot, and nobody (the camera, the whole picture), with what the note and the talk before it
 * say for each. `marks` are features of the note itself that bear on whether it is about anybody.
 */
export function characterCandidates(
  talk: Talk,
  ranges: readonly TokenRange[],
  mentions: readonly CharacterMention[],
  shot: Shot,
  marks: readonly string[],
): CharacterCandidate[] {
  const begins = ranges[0]?.first ?? 0;
  const inside = mentions.filter((mention) =>
    ranges.some((range) => mention.first >= range.first && mention.last <= range.last),
  );
  const before = mentions.findLast((mention) => mention.first < begins)?.character;
  const named = (mention: CharacterMention): boolean =>
    talk.tokens.slice(mention.first, mention.last + 1).some((token) => token.form.length >= SHORTEST_NAME);
  const several = shot.characters.length > 1 ? 'several' : 'single';
  const people = shot.characters.map((character): CharacterCandidate => {
    const own = inside.filter((mention) => mention.character === character);
    const share =
      mentions.length === 0
        ? 0
        : mentions.filter((mention) => mention.character === character).length / mentions.length;
    return {
      name: character.name,
      features: [
        'somebody',
        several,
        `${several}:count:${Math.min(own.length, 4)}`,
        `share:${stepOf(own.length / Math.max(1, inside.length), SHARE_STEPS)}:${Math.min(inside.length, 3)}`,
        `talk-share:${stepOf(share, SHARE_STEPS)}`,
        ...(own.some(named) ? ['named'] : []),
        ...(own.length > 0 && own[0] === inside[0] ? ['first-meant'] : []),
        ...(inside.find(named)?.character === character ? ['first-named'] : []),
        ...(inside.length === 0 && before === character ? ['in-mind'] : []),
        ...(before === character ? ['before'] : []),
      ],
    };
  });
  const nobody = [
    'nobody',
    several,
    `nobody:meant:${Math.min(inside.length, 3)}`,
    ...marks.map((mark) => `nobody:${mark}`),
  ];
  return [...people, { name: null, features: nobody }];
}

/** The character that a note is about, or null where it is about none, by the fitted model; else the one most meant. */
export function characterOf(candidates: readonly CharacterCandidate[], language: Language): string | null {
  const model = language.models.get('character');
  let best: { name: string | null; likely: number } = { name: candidates[0]?.name ?? null, likely: -1 };
  for (const { name, features } of candidates) {
    const likely = model
      ? (classify(model, features).get('meant') ?? 0)
      : features.includes('first-meant')
        ? 1
        : 0;
    if (likely > best.likely) best = { name, likely };
  }
  return best.name;
}
