import type { Language } from '../../language/language.ts';
import type { Talk } from '../../language/talk.ts';
import type { Step } from './playhead.ts';

/** How far past a phrase for stepping the number of frames may stand: "back, um, two". */
const REACH = 3;
/** Nobody steps further than this in words; a larger number is a frame. */
const LARGEST_STEP = 12;

/** Every step through the shot that the talk tells, with its direction and number of frames, in order. */
export function findSteps(talk: Talk, language: Language): Step[] {
  return talk.hits.flatMap((hit) => {
    if (hit.lexicon !== 'pointing' || (hit.means !== 'steps-on' && hit.means !== 'steps-back')) return [];
    let count = 1;
    for (let i = hit.first; i <= hit.last + REACH; i++) {
      const number = language.numbers.at(talk.tokens, i);
      if (!number) continue;
      if (number.value >= 1 && number.value <= LARGEST_STEP) count = number.value;
      break;
    }
    const word = talk.words[talk.tokens[hit.last]?.word ?? 0];
    return [{ seconds: word?.end ?? 0, frames: hit.means === 'steps-on' ? count : -count }];
  });
}
