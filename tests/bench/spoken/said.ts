import type { Chance } from '../frames/chance.ts';

const ONES =
  'zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen'.split(
    ' ',
  );
const TENS = ['', '', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety'];

/**
 * A written critique as a person would say it: frame numbers the way leads say them ("one oh five", "one ten", "ten forty
 * two", now and then "one hundred and ten"), letters a synthesiser can read, hyphens parted. Commas and full stops stay,
 * since they make its pauses.
 */
export function asSaid(text: string, chance: Chance): string {
  return text
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/["()]/g, '')
    .replace(/\.{2,}/g, ',')
    .replace(/[-–—]/g, ' ')
    .replace(/\d+/g, (digits) => numberAsSaid(Number(digits), chance))
    .replace(/\s+/g, ' ')
    .trim();
}

/** A frame number in words. */
export function numberAsSaid(value: number, chance: Chance): string {
  if (value < 100) return belowHundred(value);
  const [high, low] = [Math.floor(value / 100), value % 100];
  if (value === 1000) return 'one thousand';
  if (low === 0 && high < 10) return `${ONES[high]} hundred`;
  if (low === 0 && value % 1000 !== 0 && high < 100) return `${belowHundred(high)} hundred`;
  if (chance.yes(0.75) && high < 100 && high % 10 !== 0) return `${belowHundred(high)} ${pairAsSaid(low)}`;
  if (chance.yes(0.75) && high === 10) return `ten ${pairAsSaid(low)}`;
  return inFull(value);
}

/** The last two figures of a number said in pairs. */
function pairAsSaid(value: number): string {
  return value < 10 ? `oh ${ONES[value]}` : belowHundred(value);
}

function belowHundred(value: number): string {
  if (value < 20) return ONES[value] ?? '';
  const tens = TENS[Math.floor(value / 10)] ?? '';
  return value % 10 === 0 ? tens : `${tens} ${ONES[value % 10]}`;
}

function inFull(value: number): string {
  const [thousands, hundreds, rest] = [Math.floor(value / 1000), Math.floor(value / 100) % 10, value % 100];
  const parts = [
    ...(thousands > 0 ? [`${inFull(thousands)} thousand`] : []),
    ...(hundreds > 0 ? [`${ONES[hundreds]} hundred`] : []),
    ...(rest > 0 ? [thousands + hundreds > 0 ? `and ${belowHundred(rest)}` : belowHundred(rest)] : []),
  ];
  return parts.join(' ');
}

/** The words of a text that was made by `asSaid`, without their punctuation. */
export function wordsSaid(text: string): string[] {
  return text
    .split(' ')
    .map((word) => word.replace(/[^\p{L}\p{N}']/gu, ''))
    .filter((word) => /\p{L}/u.test(word));
}
