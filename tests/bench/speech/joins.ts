import { SAMPLE_RATE } from '../../../src/recording/recording.ts';
import { findVoice } from '../../../src/recording/voice.ts';
import { openEngine } from '../../../src/transcript/engines/open-engine.ts';
import { sileroPath } from '../../../src/transcript/models/embedded-files.ts';
import type { Word } from '../../../src/transcript/transcript.ts';
import { Chance } from '../frames/chance.ts';
import { scoredWords } from '../scored-words.ts';
import type { TimedWord } from '../sound-files.ts';
import { spokenSet } from '../spoken/spoken-set.ts';
import { lineUp } from '../word-error-rate.ts';
import { heardInTwo, heardWhole } from './cut-in-two.ts';

const AROUND_SECONDS = 4;
const OVERLAP_SECONDS = 1;
/** A fault of the join lies no further from the cut than this. */
const NEAR_SECONDS = 1.5;
const SPOKEN = 0.7;

interface Faults {
  /** At least one side heard it. */
  lost: string[];
  /** Neither side heard it: the recogniser's fault, which has less to go by. */
  missed: string[];
  doubled: string[];
  changed: string[];
}

/**
 * Cuts talks at random moments in the middle of speech, hears both sides and joins them as `transcribe` does, and compares
 * with the same stretch heard whole: words near the cut that were right there and are now lost or changed, and words that now
 * stand there twice. With `withPlain` also how it is where the two sides hear nothing past the cut, as a bare cutter would do it.
 */
export async function printJoins(model: string, cuts: number, withPlain: boolean): Promise<void> {
  const talks = spokenSet().filter(
    ({ times, condition }) => times && condition !== 'two people' && condition !== 'noise',
  );
  const engine = await openEngine(model);
  const chance = new Chance(7);
  const joined: Faults = { lost: [], missed: [], doubled: [], changed: [] };
  const plain: Faults = { lost: [], missed: [], doubled: [], changed: [] };
  for (let done = 0; done < cuts; ) {
    const talk = chance.one(talks);
    const { samples, duration } = talk.recording;
    const cut = chance.between(AROUND_SECONDS, duration - AROUND_SECONDS);
    const around = samples.slice(
      Math.round((cut - AROUND_SECONDS) * SAMPLE_RATE),
      Math.round((cut + AROUND_SECONDS) * SAMPLE_RATE),
    );
    const { probabilities, stepSeconds } = await findVoice(around, sileroPath());
    const step = Math.round(AROUND_SECONDS / stepSeconds);
    if (probabilities.subarray(step - 1, step + 2).some((probability) => probability < SPOKEN)) continue;
    done++;
    const hear = (past: number) => heardInTwo(engine, around, probabilities, AROUND_SECONDS, past);
    const whole = await heardWhole(engine, around, probabilities);
    const truth = (talk.times ?? []).map(({ word, start, end }) => ({
      word,
      start: start - cut + AROUND_SECONDS,
      end: end - cut + AROUND_SECONDS,
    }));
    addFaults(joined, truth, whole, await hear(OVERLAP_SECONDS));
    if (withPlain) addFaults(plain, truth, whole, await hear(0));
  }
  await engine.close();
  console.log(
    `\n${model}: ${cuts} random cuts in speech\nhow | lost by joining | doubled | heard by neither side | changed`,
  );
  for (const [how, { lost, missed, doubled, changed }] of Object.entries({
    joined,
    ...(withPlain ? { 'cut plainly': plain } : {}),
  })) {
    console.log([how, lost.length, doubled.length, missed.length, changed.length].join(' | '));
  }
  const { lost, missed, doubled, changed } = joined;
  console.log(
    `lost: ${lost.join('; ')}\ndoubled: ${doubled.join('; ')}\nheard by neither side: ${missed.join('; ')}\nchanged: ${changed.join('; ')}`,
  );
}

function addFaults(
  faults: Faults,
  truth: readonly TimedWord[],
  whole: readonly Word[],
  { joined, before, after }: Awaited<ReturnType<typeof heardInTwo>>,
): void {
  const plain = (texts: readonly string[]) => scoredWords(texts).map((word) => word.text);
  const said = scoredWords(truth.map(({ word }) => word));
  const saidTexts = said.map((word) => word.text);
  const control = plain(whole.map((word) => word.text));
  const texts = plain(joined.map((word) => word.text));
  const sides = [before, after].map(({ words }) => plain(words.map((word) => word.text)));
  const heardBySides = new Set(
    sides.flatMap((side) =>
      lineUp(saidTexts, side).flatMap(({ truth: t, heard: h }) =>
        t !== null && h !== null && saidTexts[t] === side[h] ? [t] : [],
      ),
    ),
  );
  const right = new Set(
    lineUp(saidTexts, control).flatMap(({ truth: t, heard: h }) =>
      t !== null && h !== null && saidTexts[t] === control[h] ? [t] : [],
    ),
  );
  const isNear = (index: number) => {
    const word = truth[said[index]?.first ?? 0];
    return word !== undefined && Math.abs((word.start + word.end) / 2 - AROUND_SECONDS) < NEAR_SECONDS;
  };
  const matches = lineUp(saidTexts, texts);
  const addedInControl = lineUp(saidTexts, control).filter((match) => match.truth === null).length;
  const addedHere = matches.filter((match) => match.truth === null).length;
  let at = 0;
  for (const match of matches) {
    if (match.truth !== null) {
      at = match.truth;
      if (!isNear(at) || !right.has(at)) continue;
      const word = saidTexts[at] ?? '';
      const context = `${saidTexts.slice(Math.max(0, at - 2), at + 3).join(' ')} > ${texts.slice(Math.max(0, (match.heard ?? at) - 2), (match.heard ?? at) + 3).join(' ')}`;
      if (match.heard === null)
        (heardBySides.has(at) ? faults.lost : faults.missed).push(`${word} (${context})`);
      else if (texts[match.heard] !== word)
        faults.changed.push(`${word}: ${texts[match.heard]} (${context})`);
    } else if (match.heard !== null && isNear(at) && addedHere > addedInControl) {
      const word = texts[match.heard];
      if (word === texts[match.heard - 1] || word === texts[match.heard + 1])
        faults.doubled.push(String(word));
    }
  }
}
