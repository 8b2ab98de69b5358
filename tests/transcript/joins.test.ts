import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findVoice } from '../../src/recording/voice.ts';
import { openEngine } from '../../src/transcript/engines/open-engine.ts';
import { joinAtCut } from '../../src/transcript/join-at-cut.ts';
import { joinRegions } from '../../src/transcript/join-regions.ts';
import { sileroPath } from '../../src/transcript/models/embedded-files.ts';
import { clips } from '../bench/clips.ts';
import { Chance } from '../bench/frames/chance.ts';
import { scoredWords } from '../bench/scored-words.ts';
import { heardInTwo, heardWhole } from '../bench/speech/cut-in-two.ts';
import { countErrors } from '../bench/word-error-rate.ts';

/** "ease 1.2 1.5" and so on; an exclamation mark for a word the recogniser was unsure of. */
const words = (...lines: string[]) =>
  lines.map((line) => {
    const [text = '', start, end] = line.replace('!', '').split(' ');
    return { text, start: Number(start), end: Number(end), confidence: line.includes('!') ? 0.3 : 0.9 };
  });
const joined = (before: ReturnType<typeof words>, after: ReturnType<typeof words>, cut: number) => {
  const { before: left, after: right } = joinAtCut(before, after, { start: cut - 1, end: cut + 1 }, cut);
  return [...left, ...right].map((word) => word.text).join(' ');
};

describe('two stretches that both heard the sound around a cut', () => {
  it('share the words both heard, and each is believed on its own side', () => {
    const before = words('the 8 8.1', 'left 8.1 8.5', 'knee 8.5 9', 'pops! 9 9.4', 'a! 9.8 10');
    const after = words('me! 8.6 8.9', 'knee 8.6 9', 'pops 9 9.5', 'after 9.6 9.9', 'that 9.9 10.2');
    expect(joined(before, after, 9)).toBe('the left knee pops after that');
  });

  it('do not lose or double a word that was said three times', () => {
    const before = words('no 8.5 8.7', 'no 8.8 9', 'no 9.1 9.3');
    const after = words('no 8.8 9', 'no 9.1 9.3', 'leave 9.5 9.9');
    expect(joined(before, after, 8.95)).toBe('no no no leave');
  });

  it('agree whatever the case and the punctuation', () => {
    expect(joined(words('landing. 8.6 9.1'), words('landing 8.7 9.1', 'then 9.3 9.5'), 9)).toBe(
      'landing. then',
    );
  });

  it('keep the surer of two readings of one word', () => {
    const before = words('hit 8 8.3', 'the 8.3 8.5', 'po! 8.5 9.2');
    expect(joined(before, words('pose 8.6 9.5', 'there 9.5 10'), 9)).toBe('hit the pose there');
  });

  it('keep a word that each left to the other', () => {
    expect(joined(words('hit 8 8.3', 'poses 8.8 9.3'), words('pose! 8.6 9.2', 'there 9.5 10'), 9)).toBe(
      'hit poses there',
    );
  });

  it('take what one side did not hear from the other', () => {
    const before = words('stomach 7.8 8.4', "he's 8.9 9.1", 'not 9.1 9.3', 'under 9.3 9.6', 'h! 9.9 10');
    expect(joined(before, [], 9)).toBe("stomach he's not under h");
    expect(joined(before, words('her 9.8 10.1'), 9)).toBe("stomach he's not under her");
    expect(joined(words('so 7 7.3'), words("he's 8.9 9.1", 'not 9.1 9.3'), 9)).toBe("so he's not");
  });

  it('leave the side that was unsure', () => {
    const before = words(
      'her 8.4 8.6',
      'own 8.6 8.9',
      'waist 8.9 9.2',
      'and 9.2 9.4',
      "she's 9.4 9.6",
      'absurd! 9.6 10',
    );
    const after = words(
      'her 8.5 8.6',
      'own 8.6 8.9',
      'wasting! 8.9 9.4',
      "she's 9.4 9.6",
      'absorbed 9.6 10.2',
    );
    expect(joined(before, after, 9)).toBe("her own waist and she's absorbed");
  });

  it('do not take a word half heard at the end for another one', () => {
    const before = words('leisurely 8.5 9.2', 'you! 9.24 9.3');
    expect(joined(before, words('you! 9.8 10', 'can 10 10.2'), 9)).toBe('leisurely you can');
  });

  it('keep the better reading of each word, whichever side the words around it come from', () => {
    const before = words('is 8 8.3', 'light! 8.3 8.6', 'on 8.6 8.8', 'the 8.8 9', 'rim 9 9.4', 'of! 9.8 10');
    const after = words('is 8 8.3', 'right 8.3 8.6', 'on 8.6 8.8', 'the! 8.8 9', 'brim! 9 9.4', 'of 9.4 9.7');
    expect(joined(before, after, 9)).toBe('is right on the rim of');
  });

  it('keep the better reading of a word behind a pause in which the second begins to hear', () => {
    const before = words('it 7 7.4', 'gareth! 8.5 8.8', 'it 8.8 9');
    expect(joined(before, words('get 8.5 8.8', 'it 8.8 9', 'out 9 9.3'), 9)).toBe('it get it out');
  });

  it('do not take a word that one side stammers where it stops hearing', () => {
    const before = words('planted 8.4 9', 'until 9.1 9.4', 'until! 9.4 9.8');
    expect(joined(before, words('until 9.1 9.5', 'the 9.5 9.8', 'hips 9.8 10.2'), 9)).toBe(
      'planted until the hips',
    );
  });

  it('keep a word between two others that one of them did not hear', () => {
    const before = words('ease 8.1 8.5', 'all 8.5 8.7', 'around 8.7 9.3');
    const after = words('ease 8.1 8.5', 'around 8.7 9.3', 'it 9.3 9.6');
    expect(joined(before, after, 9)).toBe('ease all around it');
    expect(joined(after.slice(0, 2), before, 8.9)).toBe('ease all around');
  });

  it('leave alone what only one of them heard', () => {
    expect(joined(words('hit 8 8.3'), words('there 9.5 10'), 9)).toBe('hit there');
    expect(joined([], words('there 9.5 10'), 9)).toBe('there');
  });
});

describe('the words of all regions', () => {
  const region = (start: number, end: number, from = start, to = end) => ({
    start,
    end,
    hear: { start: from, end: to },
  });
  const heard = (...lines: string[]) => ({ words: words(...lines), cut: false, dropped: [] });

  it('stand on the time of the recording, in order, in what was heard', () => {
    const list = joinRegions(
      [region(1, 10, 1, 11), region(10, 14, 9, 14), region(20, 22)],
      [
        heard('so 0 0.5', 'ease 8.2 8.8', 'in! 9.4 10.4'),
        heard('ease 0.1 0.7', 'into 0.9 1.5', 'it 1.4 9'),
        heard('then -1 1'),
      ],
    );
    expect(list.map(({ text, start, end }) => [text, start, end])).toEqual([
      ['so', 1, 1.5],
      ['ease', 9.2, 9.8],
      ['into', 9.9, 10.5],
      ['it', 10.5, 14],
      ['then', 20, 21],
    ]);
  });
});

it('no word is lost or doubled where speech is cut at random and joined again', {
  timeout: 300_000,
}, async () => {
  const cacheDir = await mkdtemp(join(tmpdir(), 'models-'));
  const engine = await openEngine('moonshine-base', { cacheDir });
  const chance = new Chance(3);
  let compared = 0;
  for (const { recording } of clips(/^synth-(toes|turn)/)) {
    const { samples, duration } = recording;
    const { probabilities } = await findVoice(samples, sileroPath());
    const texts = (list: readonly { text: string }[]) =>
      scoredWords(list.map(({ text }) => text)).map(({ text }) => text);
    const whole = texts(await heardWhole(engine, samples, probabilities));
    for (let k = 0; k < 2; k++) {
      const cut = chance.between(1.5, duration - 1.5);
      const inTwo = texts((await heardInTwo(engine, samples, probabilities, cut, 1)).joined);
      const { deletions, insertions } = countErrors(whole, inTwo);
      expect({ cut, deletions, insertions }).toEqual({ cut, deletions: 0, insertions: 0 });
      compared += inTwo.length;
    }
  }
  expect(compared).toBeGreaterThan(60);
  await engine.close();
  await rm(cacheDir, { recursive: true });
});
