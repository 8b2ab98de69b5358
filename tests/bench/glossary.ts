/**
 * Measures what listening for words does: `npx tsx tests/bench/glossary.ts SET [EVERY]`.
 *
 * SET is one of trade-talk.ts, or a folder of talks as 16 kHz WAV with their words in NAME.txt; with EVERY only each so
 * many-th is heard. Each talk is heard twice by the default model: plainly (the likeliest token at each step, nothing listened
 * for), and with everything on. Printed: the share of wrong words, the share of the words listened for that were misheard, how
 * many of them were heard where they were not said, and the processor time as a share of the sound's length; then the same by
 * voice and by what was done to the sound.
 */
import { readListenedWords } from '../../src/language/listened-words.ts';
import { SAMPLE_RATE } from '../../src/recording/recording.ts';
import { findRegions } from '../../src/recording/regions.ts';
import { findVoice } from '../../src/recording/voice.ts';
import { loadMoonshine, type MoonshineModel } from '../../src/transcript/engines/moonshine-model.ts';
import { type ListenFor, listenFor } from '../../src/transcript/glossary/listen-for.ts';
import { DEFAULT_MODEL } from '../../src/transcript/models/catalogue.ts';
import { sileroPath } from '../../src/transcript/models/embedded-files.ts';
import { ensureModelFolder } from '../../src/transcript/models/model-folder.ts';
import { type Clip, clips } from './clips.ts';
import { type ListenedCount, listenedErrors } from './listened-errors.ts';
import { scoredWords, withCompounds } from './scored-words.ts';
import { TRADE_SETS, type TradeTalk, tradeTalk } from './trade-talk.ts';
import { addErrors, countErrors, type ErrorCount, wordErrorRate } from './word-error-rate.ts';

const END_SILENCE = 0.4 * SAMPLE_RATE;
const GREEDY = { width: 1, reach: 0, leastWanted: 0, behind: 0, startToken: 1, endToken: 2 };

interface Way {
  readonly name: string;
  readonly leastTokens: number;
  open(folder: string, wanted: ListenFor): Promise<MoonshineModel>;
}

const WAYS: readonly Way[] = [
  { name: 'plain', leastTokens: 0, open: (folder) => loadMoonshine(folder, [], undefined, GREEDY) },
  { name: 'all on', leastTokens: 1, open: (folder, wanted) => loadMoonshine(folder, [], wanted) },
];

/** How one talk was heard, and what it was made of. */
interface Fared {
  readonly of: readonly string[];
  readonly errors: ErrorCount;
  readonly listened: ListenedCount;
}

function plainWords(text: string): string[] {
  return scoredWords(text.split(/\s+/)).map((word) => word.text);
}

function figuresOf(talks: readonly Fared[]): string {
  const whole = addErrors(talks.map(({ errors }) => errors));
  const sum = (key: keyof ListenedCount) => talks.reduce((total, { listened }) => total + listened[key], 0);
  return [
    `${whole.length} words, ${(100 * wordErrorRate(whole)).toFixed(1)} % wrong`,
    `${sum('misheard')} of ${sum('said')} listened for misheard`,
    `${((1000 * sum('invented')) / Math.max(1, whole.length)).toFixed(1)} invented in 1,000`,
  ].join(' | ');
}

const processor = () => {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
};

/** The regions of a talk, as transcribing cuts them. */
async function regionsOf({ recording: { samples } }: Clip): Promise<Float32Array[]> {
  const track = await findVoice(samples, sileroPath());
  return findRegions(track, samples).map(({ start, end }) => {
    const sound = samples.slice(Math.round(start * SAMPLE_RATE), Math.round(end * SAMPLE_RATE));
    if (end * SAMPLE_RATE < samples.length - 1) return sound;
    const longer = new Float32Array(sound.length + END_SILENCE);
    longer.set(sound);
    return longer;
  });
}

const [set = '', every = '1'] = process.argv.slice(2);
const model = await ensureModelFolder(DEFAULT_MODEL);
const all: readonly (Clip & Partial<Pick<TradeTalk, 'shot' | 'voice' | 'condition'>>)[] =
  set in TRADE_SETS ? await tradeTalk(set) : clips(/./, set);
const talks = all.filter((_, index) => index % Number(every) === 0);
const sounds: Float32Array[][] = [];
for (const talk of talks) sounds.push(await regionsOf(talk));
for (const way of WAYS) {
  const fared: Fared[] = [];
  let [spent, seconds] = [0, 0];
  for (const [index, talk] of talks.entries()) {
    const wanted = listenFor({ trade: readListenedWords(), shot: talk.shot });
    const recogniser = await way.open(model, wanted);
    const began = processor();
    const heard: string[] = [];
    for (const sound of sounds[index] ?? []) {
      const maxTokens = Math.min(192, Math.ceil((sound.length / SAMPLE_RATE) * 6.5) + 4);
      const { ids } = await recogniser.decode(sound, { leastTokens: way.leastTokens, maxTokens });
      heard.push(recogniser.text(ids));
    }
    spent += processor() - began;
    seconds += talk.recording.duration;
    await recogniser.close();
    const [said, written] = [plainWords(talk.text), plainWords(heard.join(' '))];
    const [truth, words] = [withCompounds(said, written), withCompounds(written, said)];
    const listened = listenedErrors(truth, words, wanted);
    const of = [talk.voice, talk.condition].filter((name) => name !== undefined);
    fared.push({ of, errors: countErrors(truth, words), listened });
  }
  const time = `processor time ${(spent / seconds).toFixed(3)} of ${seconds.toFixed(0)} s`;
  console.log(`${way.name} | ${figuresOf(fared)} | ${time}`);
  for (const name of new Set(fared.flatMap(({ of }) => of))) {
    console.log(`  ${name} | ${figuresOf(fared.filter(({ of }) => of.includes(name)))}`);
  }
}
