import type { Character, Shot } from '../../basics/shot.ts';
import type { Talk, TokenRange } from '../../language/talk.ts';
import { formsOf } from '../../language/tokens.ts';

/** A place where a character is named or meant by a word of theirs. */
export interface CharacterMention extends TokenRange {
  readonly character: Character;
  /** True for a name or a role, false for a word that several characters share: a pronoun. */
  readonly certain: boolean;
}

/** Every place where a word of a character stands. A word that two share goes to whoever of them was named last. */
export function findCharacters(talk: Talk, shot: Shot): CharacterMention[] {
  const owners = new Map<string, Character[]>();
  for (const character of shot.characters) {
    const names = [character.name.replace(/^(the|a|an)\s+/i, ''), ...character.words];
    for (const name of new Set(names.map((word) => formsOf(word).join(' ')))) {
      owners.set(name, [...(owners.get(name) ?? []), character]);
    }
  }
  const longest = Math.max(0, ...[...owners.keys()].map((name) => name.split(' ').length));
  const found: CharacterMention[] = [];
  let focus: Character | undefined;
  const { tokens } = talk;
  for (let i = 0; i < tokens.length; i++) {
    for (let length = longest; length > 0; length--) {
      const forms = tokens.slice(i, i + length).map((token) => token.form);
      const named = owners.get(forms.join(' ')) ?? owners.get(singular(forms).join(' '));
      if (!named || forms.length < length) continue;
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

/** "the hen's head" names the hen. */
function singular(forms: readonly string[]): string[] {
  return forms.map((form, i) => (i === forms.length - 1 ? form.replace(/s$/, '') : form));
}

/** How much more a name says than a pronoun of one character's own. */
const NAME_WEIGHT = 2;

/**
 * The character that a note is about: the one most meant in its statements; where none is, the one in mind when it
 * began; the only one of the shot. Null for notes on the camera alone and where the shot has no characters.
 */
export function characterOf(
  ranges: readonly TokenRange[],
  mentions: readonly CharacterMention[],
  shot: Shot,
  cameraOnly: boolean,
): string | null {
  if (cameraOnly) return null;
  if (shot.characters.length === 1) return shot.characters[0]?.name ?? null;
  const weights = new Map<Character, number>();
  for (const range of ranges) {
    for (const mention of mentions) {
      if (mention.first < range.first || mention.last > range.last) continue;
      const pronoun = mention.character.words.some((word) => word.length <= 4);
      const weight = mention.certain && !pronoun ? NAME_WEIGHT : 1;
      weights.set(mention.character, (weights.get(mention.character) ?? 0) + weight);
    }
  }
  const [most] = [...weights].sort((a, b) => b[1] - a[1]);
  if (most) return most[0].name;
  const begins = ranges[0]?.first ?? 0;
  const before = mentions.findLast((mention) => mention.first < begins);
  return before?.character.name ?? null;
}
