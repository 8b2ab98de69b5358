const ONES =
  'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'.split(
    ' ',
  );
const TENS = ['', '', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety'];
const SHORT_FORMS: Readonly<Record<string, string>> = {
  mr: 'mister',
  mrs: 'missus',
  oh: 'zero',
  alright: 'all right',
};

/**
 * The words of a text as they are said, for scoring: lower case, no punctuation, hyphens parted, numbers in words. So "42."
 * and "forty two" are equal, and a recogniser is not blamed for how it writes.
 */
export function spokenWords(text: string): string[] {
  return text
    .toLowerCase()
    .replace(/[-–—/]/g, ' ')
    .replace(/[^\p{L}\p{N}' ]/gu, ' ')
    .split(/\s+/)
    .filter((word) => /[\p{L}\p{N}]/u.test(word))
    .flatMap((word) => (/^\d+$/.test(word) ? numberWords(word) : (SHORT_FORMS[word] ?? word).split(' ')));
}

/** Up to three digits as a number; longer strings, and those that begin with 0, digit by digit. */
function numberWords(digits: string): string[] {
  if (digits.length > 3 || digits.startsWith('0'))
    return [...digits].map((digit) => ONES[Number(digit)] ?? '');
  const value = Number(digits);
  if (value >= 100) {
    const rest = value % 100;
    const hundreds = [ONES[Math.floor(value / 100)] ?? '', 'hundred'];
    return rest === 0 ? hundreds : [...hundreds, 'and', ...numberWords(String(rest))];
  }
  if (value < 20) return [ONES[value] ?? ''];
  const tens = TENS[Math.floor(value / 10)] ?? '';
  return value % 10 === 0 ? [tens] : [tens, ONES[value % 10] ?? ''];
}
