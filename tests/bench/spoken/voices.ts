import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Resampler } from '../../../src/recording/resample.ts';
import { type TimedWord, wavSamples } from '../sound-files.ts';
import { wordsSaid } from './said.ts';
import { phonesOf, wordOfPhone } from './word-phones.ts';

/** What a synthesiser said: 16 kHz mono, and when each word was, where it tells. */
export interface Said {
  readonly samples: Float32Array;
  /** One for each of `wordsSaid`; null where the synthesiser keeps no times. */
  readonly times: readonly TimedWord[] | null;
}

export interface Manner {
  /** 1 is the voice's own pace, 0.9 is faster. */
  readonly stretch: number;
}

export interface Voice {
  readonly id: string;
  readonly program: 'flite' | 'espeak-ng' | 'festival';
  say(text: string, manner: Manner): Said;
}

/** Every voice whose program and data are on this machine, in one order. Which they are is part of what a set is. */
export function voicesHere(): Voice[] {
  const all = [
    ...['slt', 'rms', 'awb', 'kal16', 'kal'].map(flite),
    espeak('espeak-us', 'en-us'),
    espeak('espeak-rp', 'en-gb-x-rp+f2'),
    espeak('espeak-scot', 'en-gb-scotland+m7'),
    festival('slt-hts', 'voice_cmu_us_slt_arctic_hts'),
    festival('ked', 'voice_ked_diphone'),
  ];
  const programs = new Map(
    ['flite', 'espeak-ng', 'festival'].map((name) => [
      name,
      !spawnSync(name, ['--version'], { stdio: 'ignore' }).error,
    ]),
  );
  return all.filter((voice) => programs.get(voice.program) && speaks(voice));
}

function speaks(voice: Voice): boolean {
  try {
    return voice.say('yes', { stretch: 1 }).samples.length > 1600;
  } catch {
    return false;
  }
}

/** Runs `make` with the path of a WAV to be written and gives the sound in it. */
function soundOf(make: (path: string) => void): Float32Array {
  const folder = mkdtempSync(join(tmpdir(), 'said-'));
  try {
    const path = join(folder, 'said.wav');
    make(path);
    const { samples, rate } = wavSamples(readFileSync(path));
    if (rate === 16000) return samples;
    const resampler = new Resampler(rate);
    const [most, rest] = [resampler.push(samples), resampler.finish()];
    const all = new Float32Array(most.length + rest.length);
    all.set(most);
    all.set(rest, most.length);
    return all;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Debian's flite: prints the end of every phone, so its words' times are known. */
function flite(name: string): Voice {
  const alone = new Map<string, readonly string[]>();
  const printed = (text: string) =>
    execFileSync('flite', ['-voice', name, '-ps', '-t', text, 'none'], { encoding: 'utf8' });
  const phonesAlone = (word: string) => alone.get(word) ?? [];
  /** All new words of a text in one go, a pause after each; one by one where the pauses do not tell them apart. */
  const learn = (words: readonly string[]) => {
    const unknown = [...new Set(words)].filter((word) => !alone.has(word));
    if (unknown.length === 0) return;
    const groups = phoneGroups(printed(unknown.map((word) => `${word}.`).join(' ')));
    unknown.forEach((word, i) => {
      const own = groups.length === unknown.length ? groups[i] : phoneGroups(printed(word)).flat();
      alone.set(word, own ?? []);
    });
  };
  return {
    id: name,
    program: 'flite',
    say(text, { stretch }) {
      let ends = '';
      const samples = soundOf((path) => {
        ends = execFileSync(
          'flite',
          ['-voice', name, '--setf', `duration_stretch=${stretch}`, '-psdur', '-t', text, '-o', path],
          { encoding: 'utf8' },
        );
      });
      const phones = phonesOf(ends);
      const words = wordsSaid(text);
      learn(words);
      const owner = wordOfPhone(
        phones.map((phone) => phone.name),
        words.flatMap((word, index) => phonesAlone(word).map((phone) => ({ name: phone, word: index }))),
      );
      const times = words.map((word, index) => {
        const own = phones.filter((_, i) => owner[i] === index);
        return { word, start: own[0]?.start ?? Number.NaN, end: own.at(-1)?.end ?? Number.NaN };
      });
      return { samples, times };
    },
  };
}

/** The phones of what flite prints with `-ps`, parted at its pauses. */
function phoneGroups(printed: string): string[][] {
  return printed
    .split('pau')
    .map((group) => group.split(/\s+/).filter((phone) => phone !== ''))
    .filter((group) => group.length > 0);
}

function espeak(id: string, name: string): Voice {
  return {
    id,
    program: 'espeak-ng',
    say(text, { stretch }) {
      const pace = String(Math.round(165 / stretch));
      const samples = soundOf((path) => {
        execFileSync('espeak-ng', ['-v', name, '-s', pace, '-w', path, text]);
      });
      return { samples, times: null };
    },
  };
}

/** Debian's festival: tells each word's start and end itself. */
function festival(id: string, name: string): Voice {
  return {
    id,
    program: 'festival',
    say(text, { stretch }) {
      const folder = mkdtempSync(join(tmpdir(), 'said-'));
      const script = join(folder, 'say.scm');
      let told = '';
      const samples = soundOf((path) => {
        writeFileSync(
          script,
          `(${name})
(Parameter.set 'Duration_Stretch ${stretch})
(set! said (utt.synth (Utterance Text ${JSON.stringify(text)})))
(utt.save.wave said ${JSON.stringify(path)} 'riff)
(mapcar (lambda (w) (format t "%s %f %f\\n" (item.name w) (item.feat w "word_start") (item.feat w "word_end")))
  (utt.relation.items said 'Word))`,
        );
        told = execFileSync('festival', ['-b', script], { encoding: 'utf8' });
      });
      rmSync(folder, { recursive: true });
      const times: TimedWord[] = [];
      for (const line of told.trim().split('\n')) {
        const [word = '', start, end] = line.split(' ');
        const before = times.at(-1);
        // Festival parts "the cat's" into three.
        if (word.startsWith("'") && before) times[times.length - 1] = { ...before, end: Number(end) };
        else if (/[a-z]/i.test(word)) times.push({ word, start: Number(start), end: Number(end) });
      }
      const words = wordsSaid(text);
      const agree = times.length === words.length;
      return { samples, times: agree ? times.map((time, i) => ({ ...time, word: words[i] ?? '' })) : null };
    },
  };
}
