import type { Shot } from '../../basics/shot.ts';
import type { SaidNumber } from '../../language/numbers.ts';
import type { Talk, TokenRange } from '../../language/talk.ts';
import type { FrameWords } from '../frame-words.ts';

/** Most words between the two ends of a range on either side of what joins them: "all the way to, um, the". */
const LONGEST_JOINT = 4;
/** How far before a number the word may stand that makes what follows it a range: "from about one forty". */
const PARTNER_REACH = 3;

/** A spoken number as a frame of the shot, or null where the shot has no such frame. Leads drop the thousands: 42 is 1042. */
export function frameOf(value: number, shot: Shot): number | null {
  if (!Number.isInteger(value)) return null;
  const last = shot.last ?? Number.POSITIVE_INFINITY;
  const fits = (frame: number): boolean => frame >= shot.first && frame <= last;
  if (fits(value)) return value;
  const thousands = Math.floor(shot.first / 1000) * 1000;
  return thousands > 0 && value < 1000 && fits(value + thousands) ? value + thousands : null;
}

/** A range that begins at a number, and whether the next number is its end; null where a single frame is said. */
export function rangeFrom(
  talk: Talk,
  here: SaidNumber,
  first: number,
  next: SaidNumber | undefined,
  shot: Shot,
  words: FrameWords,
): (TokenRange & { frames: [number, number]; usedNext: boolean }) | null {
  const { tokens } = talk;
  const form = (i: number): string => tokens[i]?.form ?? '';
  const partnered = (word: string): boolean =>
    tokens
      .slice(Math.max(0, here.first - PARTNER_REACH), here.first)
      .some((token) => token.form === words.needs[word]);
  let onward = here.last + 1;
  const open = words.onwards.find((phrase) => phrase.every((word, i) => form(onward + i) === word));
  if (open && shot.last !== null) {
    const last = onward + open.length - 1;
    // "on 42 on his way": a bare "on" needs a "from" before it or a stop after it.
    const alone = open.join(' ');
    if (!words.needs[alone] || partnered(alone) || tokens[last]?.stop !== '') {
      // "34 and on to 41" says where it ends.
      if (!words.range.has(form(last + 1)))
        return { first: here.first, last, frames: [first, shot.last], usedNext: false };
      onward = last + 1;
    }
  }
  // "118-126" is one word.
  const hyphen = next?.first === onward && tokens[here.last]?.word === tokens[onward]?.word;
  let joiner = onward;
  while (
    !hyphen &&
    joiner < onward + LONGEST_JOINT &&
    !words.range.has(form(joiner)) &&
    words.passing.has(form(joiner))
  )
    joiner += 1;
  if (!hyphen && !words.range.has(form(joiner))) return null;
  if (words.needs[form(joiner)] && !partnered(form(joiner))) return null;
  let to = hyphen ? onward : joiner + 1;
  const passes = (i: number): boolean =>
    words.frame.has(form(i)) ||
    words.range.has(form(i)) ||
    words.place.has(form(i)) ||
    words.passing.has(form(i));
  while (to <= joiner + LONGEST_JOINT && next?.first !== to && passes(to)) to += 1;
  if (words.end.has(form(to)) && shot.last !== null) {
    return { first: here.first, last: to, frames: [first, shot.last], usedNext: false };
  }
  if (!next || next.first !== to) return null;
  const last = frameOf(next.value, shot);
  const completed = last !== null && last > first ? last : completedEnd(first, next, shot);
  return completed === null
    ? null
    : { first: here.first, last: next.last, frames: [first, completed], usedNext: true };
}

/** "118 to 26": the end leaves out what it shares with the start. "94 to oh one" goes on into the next hundred. */
function completedEnd(first: number, { value, padded }: SaidNumber, shot: Shot): number | null {
  for (const base of [10, 100]) {
    const frame = first - (first % base) + value;
    if (value < base && frame > first) return frameOf(frame, shot);
  }
  return padded ? frameOf(first - (first % 100) + 100 + value, shot) : null;
}
