import { type Shot, shotSchema } from '../../src/basics/shot.ts';
import type { Language } from '../../src/language/language.ts';
import { readTalk } from '../../src/language/talk.ts';
import { evidenceOf } from '../../src/notes/evidence.ts';
import type { Statement } from '../../src/statements/statement.ts';
import { said } from '../language/said.ts';

/** A talk of one statement a breath, all of one role, and what its words hold. */
export function evidenceIn(language: Language, breaths: readonly string[], role: Statement['role'] = 'fix') {
  const words = said(...breaths);
  const talk = readTalk(words, language);
  let firstWord = 0;
  const statements = breaths.map((text, i): Statement => {
    const lastWord = firstWord + text.split(/\s+/).filter(Boolean).length - 1;
    const statement: Statement = {
      id: `s${i + 1}`,
      start: words[firstWord]?.start ?? 0,
      end: words[lastWord]?.end ?? 0,
      text,
      role,
      confidence: 1,
      firstWord,
      lastWord,
      opening: i === 0 ? 1 : 0,
      repairs: [],
    };
    firstWord = lastWord + 1;
    return statement;
  });
  return { talk, statements, evidence: evidenceOf(talk, statements) };
}

/** A shot of seven seconds at 24 frames a second that begins at frame 1001. */
export const FROM_1001: Shot = shotSchema.parse({ first: 1001, last: 1168 });
/** The same from frame 1. */
export const FROM_1: Shot = shotSchema.parse({ first: 1, last: 168 });
