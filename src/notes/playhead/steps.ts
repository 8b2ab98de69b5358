import type { Language } from '../../language/language.ts';
import type { Hit } from '../../language/lexicon.ts';
import type { Talk } from '../../language/talk.ts';
import { frameWordsOf } from '../frame-words.ts';
import { endsClause } from './clauses.ts';
import type { Step } from './playhead.ts';

/** Nobody steps further than this in words; a larger number is a frame. */
const LARGEST_STEP = 12;

/**
 * Every step through the shot that the talk tells, with its direction and number of frames, in order. A step is said alone:
 * "okay, back one. And one more, there"; in "give it one more frame" and "he goes back two steps" nobody steps.
 */
export function findSteps(talk: Talk, language: Language): Step[] {
  return stepHits(talk, language).map((hit) => {
    const frames = countIn(talk, hit, language);
    return {
      seconds: talk.words[talk.tokens[hit.last]?.word ?? 0]?.end ?? 0,
      frames: hit.means === 'on' ? frames : -frames,
    };
  });
}

function stepHits(talk: Talk, language: Language): Hit[] {
  const { besideStep } = frameWordsOf(language);
  const apart: Hit[] = [];
  for (const hit of talk.hits) {
    if (hit.lexicon !== 'player' || (hit.means !== 'on' && hit.means !== 'back')) continue;
    const whole = range(hit.first, hit.last - 1).every((token) => !endsClause(talk, token));
    // "back one more" is one step: of two that overlap the first counts.
    const free = (apart.at(-1)?.last ?? -1) < hit.first;
    if (whole && free && countIn(talk, hit, language) <= LARGEST_STEP) apart.push(hit);
  }
  const stepping = new Set(apart.flatMap((hit) => range(hit.first, hit.last)));
  return apart.filter((hit) => {
    let [first, last] = [hit.first, hit.last];
    while (first > 0 && !endsClause(talk, first - 1)) first -= 1;
    while (last < talk.tokens.length - 1 && !endsClause(talk, last)) last += 1;
    return range(first, last).every(
      (token) => stepping.has(token) || besideStep.has(talk.tokens[token]?.form ?? ''),
    );
  });
}

/** The number of frames that a step says; one where it says none. */
function countIn(talk: Talk, hit: Hit, language: Language): number {
  const { quantities } = frameWordsOf(language);
  for (let i = hit.first; i <= hit.last; i++) {
    const number = language.numbers.at(talk.tokens, i);
    if (number) return number.value;
    const form = talk.tokens[i]?.form ?? '';
    const quantity = Object.hasOwn(quantities, form) ? quantities[form] : undefined;
    if (quantity && quantity[0] > 1) return quantity[0];
  }
  return 1;
}

function range(first: number, last: number): number[] {
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => first + i);
}
