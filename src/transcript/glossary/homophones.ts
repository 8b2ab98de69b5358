import type { NumbersHeard } from './listen-for.ts';
import type { MendedWord } from './sound-alikes.ts';

/** A word that ends so has no mark behind it. */
const LETTERS_TO_THE_END = /[\p{L}\p{N}]$/u;
const FIGURES = /^\d/;

/**
 * Mends numbers that were written as other words of the same sound ("for more frames"), by the words they stand among. What was
 * heard is kept beside them.
 */
export function homophoneMender(
  { homophones, words: numbers }: NumbersHeard = { homophones: [], words: [] },
): (words: readonly MendedWord[]) => MendedWord[] {
  const numberWords = new Set(numbers);
  const isNumber = (form: string) => FIGURES.test(form) || numberWords.has(form);
  const known = homophones.map(({ says, heard, among, unless }) => ({
    says,
    heard: new Set(heard),
    among: among.map(patternOf),
    unless: unless.map(patternOf),
  }));
  return (words) => {
    const forms = words.map(({ text }) => formOf(text));
    const fits = ({ before, behind }: Pattern, at: number): boolean => {
      const from = at - before.length;
      const all = [...before, forms[at] ?? '', ...behind];
      return all.every((wanted, index) => {
        const form = forms[from + index];
        if (form === undefined) return false;
        // A mark between two words says that they are two.
        const isParted = index < all.length - 1 && !LETTERS_TO_THE_END.test(words[from + index]?.text ?? '');
        return !isParted && (wanted === ANY_NUMBER ? isNumber(form) : wanted === form);
      });
    };
    return words.map((word, at) => {
      const form = forms[at] ?? '';
      const found = known.find(
        ({ heard, among, unless }) =>
          heard.has(form) &&
          among.some((pattern) => fits(pattern, at)) &&
          !unless.some((pattern) => fits(pattern, at)),
      );
      return found
        ? { ...word, text: inPlaceOf(word.text, found.says), heard: word.heard ?? word.text }
        : word;
    });
  };
}

interface Pattern {
  readonly before: readonly string[];
  readonly behind: readonly string[];
}

const ANY_NUMBER = '#';

function patternOf(text: string): Pattern {
  const words = text.split(' ');
  const at = words.indexOf('_');
  return { before: words.slice(0, at), behind: words.slice(at + 1) };
}

function formOf(text: string): string {
  return text.toLowerCase().replace(/^[^\p{L}\p{N}]+|[^\p{L}\p{N}]+$/gu, '');
}

/** With the capital and the marks of what it replaces. */
function inPlaceOf(text: string, says: string): string {
  const [initial = ''] = says;
  const word = /\p{Lu}/u.test(text[0] ?? '') ? initial.toUpperCase() + says.slice(1) : says;
  const marks = /[^\p{L}\p{N}]*$/u.exec(text)?.[0] ?? '';
  return word + marks;
}
