import { describe, expect, it } from 'vitest';
import { shotSchema } from '../src/basics/shot.ts';
import { timecodeOf } from '../src/basics/time.ts';
import { loadLanguage } from '../src/language/language.ts';
import { readTalk } from '../src/language/talk.ts';
import { frameCandidates } from '../src/notes/finders/frames.ts';
import { said } from './language/said.ts';

const language = loadLanguage();
const hitsIn = (text: string) => readTalk(said(text), language).hits;

// Frank Thomas and Ollie Johnston, The Illusion of Life (1981), in its order; the name as the trade says it, and the
// issues that a note about it may rightly be filed under.
describe('the twelve principles of animation', () => {
  const issuesIn = (text: string): string[] =>
    hitsIn(text)
      .filter(({ lexicon }) => lexicon.startsWith('issues/'))
      .map(({ means }) => means);

  it.each([
    ['squash and stretch', ['exaggeration', 'weight', 'pose', 'overlap']],
    ['anticipation', ['anticipation']],
    ['staging', ['staging']],
    ['straight ahead', ['pose', 'spacing']],
    ['pose to pose', ['pose', 'spacing']],
    ['follow through', ['overlap']],
    ['overlapping action', ['overlap']],
    ['slow in', ['spacing']],
    ['slow out', ['spacing']],
    ['slow in and slow out', ['spacing']],
    ['arc', ['arc']],
    ['arcs', ['arc']],
    ['secondary action', ['overlap', 'acting']],
    ['timing', ['timing']],
    ['exaggeration', ['exaggeration']],
    ['solid drawing', ['pose', 'weight', 'silhouette']],
    ['appeal', ['pose', 'acting', 'expression', 'silhouette']],
  ])('%s is a fault that a note can have', (name, issues) => {
    expect(issuesIn(name).filter((issue) => issues.includes(issue))).not.toEqual([]);
  });

  it.each(['she looks straight ahead', 'he walks straight ahead of the others'])(
    '"%s" names none of them',
    (text) => {
      expect(issuesIn(text)).toEqual([]);
    },
  );
});

describe('film runs at 24 frames a second', () => {
  it.each([
    ['one second in', 25],
    ['two seconds in', 49],
    ['half a second in', 13],
  ])('%s is frame %i of a shot that begins at frame 1', (text, frame) => {
    const shot = shotSchema.parse({ first: 1, last: 168 });
    const [place] = frameCandidates(readTalk(said(text), language), shot, language);
    expect(place?.frames).toEqual([frame, frame]);
  });

  it('and 25 in European television', () => {
    const shot = shotSchema.parse({ first: 1, last: 168, fps: 25 });
    const [place] = frameCandidates(readTalk(said('two seconds in'), language), shot, language);
    expect(place?.frames).toEqual([51, 51]);
  });

  it('so that a minute is 1440 frames', () => {
    expect(timecodeOf(1440, 24)).toBe('00:01:00:00');
  });
});

// Words that English speakers fill and hedge with, as any list of them in common use holds.
describe('words that say little', () => {
  it.each(['um', 'uh', 'er', 'you know', 'I mean', 'kind of', 'sort of', 'so to speak'])(
    '%s is a filler',
    (word) => {
      expect(hitsIn(`it is, ${word}, late`)).toContainEqual(
        expect.objectContaining({ lexicon: 'repairs', means: 'filler' }),
      );
    },
  );

  it.each([
    'maybe',
    'perhaps',
    'possibly',
    'probably',
    'kind of',
    'sort of',
    'a little bit',
    'I guess',
    'slightly',
  ])('%s softens what is asked', (word) => {
    expect(hitsIn(`${word} lift the elbow`)).toContainEqual(
      expect.objectContaining({ lexicon: 'strength', means: 'softener' }),
    );
  });

  it.each(['if you have time', 'up to you', 'super picky', 'nice to have', 'you could try'])(
    '%s leaves it to the animator',
    (words) => {
      expect(hitsIn(`lift the elbow, ${words}`)).toContainEqual(
        expect.objectContaining({ lexicon: 'strength', means: 'could' }),
      );
    },
  );

  it.each(['definitely', 'has to', 'the main thing', 'absolutely'])('%s insists', (words) => {
    expect(hitsIn(`the foot, ${words} stop sliding`)).toContainEqual(
      expect.objectContaining({ lexicon: 'strength', means: 'must' }),
    );
  });
});
