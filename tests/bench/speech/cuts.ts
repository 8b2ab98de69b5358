import { SAMPLE_RATE } from '../../../src/recording/recording.ts';
import { findRegions } from '../../../src/recording/regions.ts';
import { findVoice } from '../../../src/recording/voice.ts';
import { sileroPath } from '../../../src/transcript/models/embedded-files.ts';
import { recordingOf } from '../clips.ts';
import { Chance } from '../frames/chance.ts';
import type { TimedWord } from '../sound-files.ts';
import { type SpokenTalk, spokenSet } from '../spoken/spoken-set.ts';

/** So much sound stands on each side of a cut. */
export const AROUND_SECONDS = 4;
const SPOKEN = 0.7;
/** Between words no more of a pause than this is left where speech without pauses is wanted. */
const LONGEST_PAUSE = 0.06;

/** Sound with a cut in its middle; all times from its start. */
export interface CutSound {
  readonly samples: Float32Array;
  readonly voice: Float32Array;
  readonly truth: readonly TimedWord[];
}

type Timed = Pick<SpokenTalk, 'recording'> & { readonly times: readonly TimedWord[] };

/** Cuts at random moments in the middle of speech, wherever in a word that is. */
export async function* randomCuts(cuts: number, seed: number): AsyncGenerator<CutSound> {
  const talks = timedTalks();
  const chance = new Chance(seed);
  for (let done = 0; done < cuts; ) {
    const talk = chance.one(talks);
    const { duration } = talk.recording;
    const sound = await soundAround(talk, chance.between(AROUND_SECONDS, duration - AROUND_SECONDS));
    const step = Math.round((AROUND_SECONDS * SAMPLE_RATE) / 512);
    if (sound.voice.subarray(step - 1, step + 2).some((probability) => probability < SPOKEN)) continue;
    done++;
    yield sound;
  }
}

/** Cuts where `findRegions` makes them in talks whose pauses were taken out, so that no pause is left to cut in. */
export async function* foundCuts(cuts: number): AsyncGenerator<CutSound> {
  const talk = withoutPauses(timedTalks());
  const { samples, duration } = talk.recording;
  const regions = findRegions(await findVoice(samples, sileroPath()), samples);
  const inSpeech = regions.filter(
    ({ start, hear }) => hear.start < start && start > AROUND_SECONDS && start < duration - AROUND_SECONDS,
  );
  for (const { start } of inSpeech.slice(0, cuts)) yield await soundAround(talk, start);
}

function timedTalks(): Timed[] {
  return spokenSet().flatMap((talk) => {
    const { times, condition } = talk;
    if (!times || condition === 'two people' || condition === 'noise') return [];
    return [
      {
        get recording() {
          return talk.recording;
        },
        times,
      },
    ];
  });
}

async function soundAround({ recording, times }: Timed, cut: number): Promise<CutSound> {
  const samples = recording.samples.slice(
    Math.round((cut - AROUND_SECONDS) * SAMPLE_RATE),
    Math.round((cut + AROUND_SECONDS) * SAMPLE_RATE),
  );
  const { probabilities } = await findVoice(samples, sileroPath());
  return { samples, voice: probabilities, truth: later(times, AROUND_SECONDS - cut) };
}

/** All talks one behind the other, with the pauses between their words taken out. */
function withoutPauses(talks: readonly Timed[]): Timed {
  const parts: Float32Array[] = [];
  const times: TimedWord[] = [];
  let length = 0;
  for (const { recording, times: own } of talks) {
    let reached = 0;
    for (const word of own) {
      if (!(word.end > word.start)) continue;
      const from = Math.max(reached, word.start - LONGEST_PAUSE);
      const start = length / SAMPLE_RATE + word.start - from;
      const part = recording.samples.slice(
        Math.round(from * SAMPLE_RATE),
        Math.round(word.end * SAMPLE_RATE),
      );
      parts.push(part);
      times.push({ ...word, start, end: start + word.end - word.start });
      length += part.length;
      reached = word.end;
    }
  }
  const samples = new Float32Array(length);
  let at = 0;
  for (const part of parts) {
    samples.set(part, at);
    at += part.length;
  }
  return { recording: recordingOf('without-pauses.wav', samples), times };
}

function later(words: readonly TimedWord[], seconds: number): TimedWord[] {
  return words.map((word) => ({ ...word, start: word.start + seconds, end: word.end + seconds }));
}
