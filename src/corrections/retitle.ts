import type { Language } from '../language/language.ts';
import type { Note } from '../notes/note.ts';
import { titleOf } from '../notes/title.ts';

/** Writes titles anew from tags that a person set. Names a character where the shot has several. */
export function retitleWith(language: Language, characters: number): (note: Note) => string {
  return ({ role, issue, body, amount, character }) =>
    titleOf(
      {
        role,
        issue,
        body,
        amount,
        direction: null,
        own: new Map(),
        character: characters > 1 ? character : null,
      },
      language,
    );
}
