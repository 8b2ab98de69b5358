import { describe, expect, it } from 'vitest';
import { loadLanguage } from '../../src/language/language.ts';
import { readTalk } from '../../src/language/talk.ts';
import { withoutSlips } from '../../src/notes/finders/frame-slips.ts';
import { frameCandidates } from '../../src/notes/finders/frames.ts';
import { said } from '../language/said.ts';
import { FROM_1, FROM_1001 } from './read.ts';

const language = loadLanguage();

function framesIn(text: string, shot = FROM_1001) {
  const talk = readTalk(said(text), language);
  return withoutSlips(talk, frameCandidates(talk, shot, language)).map((one) => one.frames);
}

describe('a mentor who looks for the frame', () => {
  it('means the number that puts the other right', () => {
    expect(framesIn("It starts on 82. No, I'm lying, 84.")).toEqual([[1084, 1084]]);
    expect(framesIn('from 84 to 96, sorry, from 84 to 94')).toEqual([[1084, 1094]]);
  });

  it('means the new end where only the end was wrong', () => {
    expect(framesIn('from 1 to 12, no, it carries on to 14', FROM_1)).toEqual([[1, 14]]);
  });

  it('means what the counting led to, not the counting', () => {
    expect(framesIn('86, 87, there, the elbow, frame 88')).toEqual([[1088, 1088]]);
  });

  it('means the number near the wrong one where only its end is put right', () => {
    expect(framesIn('at what is that eleven forty two no forty four')).toEqual([[1144, 1144]]);
    expect(framesIn('there on eleven twenty six, sorry, twenty eight')).toEqual([[1128, 1128]]);
  });

  it('means a number once that is said in full and in short', () => {
    expect(framesIn('at forty-two, a hundred and forty-two, he hits glass')).toEqual([[1142, 1142]]);
    expect(framesIn('Yeah, 1141 really. Forty-one.')).toEqual([[1141, 1141]]);
  });

  it('means both where two places are named', () => {
    expect(framesIn('on 42 and again on 60')).toEqual([
      [1042, 1042],
      [1060, 1060],
    ]);
  });
});

describe('a range', () => {
  it('goes to the end of the shot where it is said to go on', () => {
    expect(framesIn('from 120 on he is frozen')).toEqual([[1120, 1168]]);
    expect(framesIn('from 120 until the finish he is frozen')).toEqual([[1120, 1168]]);
  });

  it('ends where it is said to end', () => {
    expect(framesIn('from 34 and on to 41 the fur sinks in')).toEqual([[1034, 1041]]);
    expect(framesIn('frame 121 to frame 133')).toEqual([[1121, 1133]]);
    expect(framesIn('it is ninety four to oh one')).toEqual([[1094, 1101]]);
  });

  it('is not what something weighs or costs', () => {
    expect(framesIn('that sack is fifty kilos')).toEqual([]);
    expect(framesIn('Lean-back at 1050, stone on the chest')).toEqual([[1050, 1050]]);
  });
});
