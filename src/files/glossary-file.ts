import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { PersonError } from '../basics/problem.ts';
import { readingFault } from '../basics/system-message.ts';
import { phraseFault } from '../transcript/glossary/listen-for.ts';

/** Longer lists are no list of what is said in one room, and slow every token down. */
const MOST_PHRASES = 2000;

/**
 * Reads a person's own list of words to listen for: one word or phrase a line; empty lines and what follows a # are left out.
 *
 * @throws PersonError that names the file, the line and the mend.
 */
export async function readGlossaryFile(path: string): Promise<string[]> {
  const bytes = await readFile(path).catch((error: unknown) => {
    throw readingFault(error, path);
  });
  const file = basename(path);
  let text: string;
  try {
    text = new TextDecoder(encodingOf(bytes), { fatal: true }).decode(bytes);
  } catch (error) {
    throw new PersonError(
      `${file} is no text in UTF-8: save the list in that encoding, one word or phrase a line.`,
      {
        cause: error,
      },
    );
  }
  const phrases = text.split(/\r\n|\n|\r/).flatMap((line, index) => {
    const phrase = line.replace(/#.*/, '').trim().replace(/\s+/g, ' ');
    if (phrase === '') return [];
    const fault = phraseFault(phrase);
    if (fault === null) return [phrase];
    throw new PersonError(
      `${file}, line ${index + 1}: "${phrase.slice(0, 60)}" ${fault}; write one word or phrase a line, as it is said.`,
    );
  });
  if (phrases.length === 0) {
    throw new PersonError(
      `${file} holds no words: write one word or phrase a line, or leave --glossary out.`,
    );
  }
  if (phrases.length > MOST_PHRASES) {
    throw new PersonError(
      `${file} holds ${phrases.length} words: keep the ${MOST_PHRASES} that are misheard and delete the others.`,
    );
  }
  return phrases;
}

/** Some editors write two bytes for each letter, and say so in front. */
function encodingOf([first, second]: Uint8Array): string {
  if (first === 0xff && second === 0xfe) return 'utf-16le';
  return first === 0xfe && second === 0xff ? 'utf-16be' : 'utf-8';
}
