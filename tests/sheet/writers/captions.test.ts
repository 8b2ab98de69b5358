import { parseSync } from 'subtitle';
import { describe, expect, it } from 'vitest';
import { WebVTTParser } from 'webvtt-parser';
import { CUE_CHARACTERS, CUE_SECONDS, cutIntoCues } from '../../../src/sheet/writers/cues.ts';
import { writeSrt } from '../../../src/sheet/writers/srt.ts';
import { writeVtt } from '../../../src/sheet/writers/vtt.ts';
import { transcriptOf } from '../../../src/sheet/writers/writers.ts';
import type { Transcript, Word } from '../../../src/transcript/transcript.ts';
import { savedSheet } from '../saved-sheet.ts';

function speak(text: string, start = 0, secondsEach = 0.3): Word[] {
  return text.split(' ').map((word, i) => ({
    text: word,
    start: start + i * secondsEach,
    end: start + (i + 0.9) * secondsEach,
    confidence: 1,
  }));
}

function transcript(words: Word[]): Transcript {
  return { ...transcriptOf(savedSheet()), words };
}

const HOSTILE = speak('the & arm --> <b>pops</b> &amp; then --> stops. WEBVTT 12 00:00:01.000', 359_999);
const LONG = speak(Array.from({ length: 400 }, (_, i) => (i % 17 === 5 ? 'held,' : 'pose')).join(' '));

function plain(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}

function said(words: readonly Word[]): string {
  return words.map((word) => word.text).join(' ');
}

describe('captions read back by other programs', () => {
  it.each([
    ['an ordinary talk', transcriptOf(savedSheet()).words],
    ['words that look like markup, after a hundred hours', HOSTILE],
    ['a talk without a full stop', LONG],
    ['silence', []],
  ])('WebVTT holds %s', (_, words) => {
    const text = writeVtt(transcript(words));
    const { cues, errors } = new WebVTTParser().parse(text, 'metadata');
    expect(errors).toEqual([]);
    const read = cues.map((cue) => unescapeCue(cue.text)).join(' ');
    expect(plain(read)).toBe(said(words));
    expect(cues.map((cue) => cue.startTime)).toEqual(cutIntoCues(words).map((cue) => thousandth(cue.start)));
  });

  it.each([
    ['an ordinary talk', transcriptOf(savedSheet()).words],
    ['words that look like markup', speak('the & arm --> <b>pops</b> then --> stops.')],
    ['a talk without a full stop', LONG],
  ])('SubRip holds %s', (_, words) => {
    const nodes = parseSync(writeSrt(transcript(words))).filter((node) => node.type === 'cue');
    const read = nodes.map((node) =>
      typeof node.data === 'object' && 'text' in node.data ? node.data.text : '',
    );
    expect(plain(read.join(' '))).toBe(said(words).replaceAll('<', '‹').replaceAll('>', '›'));
    const starts = nodes.map((node) =>
      typeof node.data === 'object' && 'start' in node.data ? node.data.start : -1,
    );
    expect(starts).toEqual(cutIntoCues(words).map((cue) => Math.round(cue.start * 1000)));
  });

  it('SubRip writes hours past 99', () => {
    expect(writeSrt(transcript(HOSTILE))).toContain('99:59:59,000 --> 100:00:0');
  });
});

function unescapeCue(text: string): string {
  return text.replaceAll('&lt;', '<').replaceAll('&gt;', '>').replaceAll('&amp;', '&');
}

function thousandth(value: number): number {
  return Math.round(value * 1000) / 1000;
}

describe('cues', () => {
  it.each([
    ['fast talk', LONG],
    ['slow talk', speak('one two three four five six seven eight nine ten', 0, 2.4)],
    ['a word whose time went wrong', [{ text: 'uh', start: 1, end: 31, confidence: 0.1 }]],
  ])('keep to their limits in %s', (_, words) => {
    for (const cue of cutIntoCues(words)) {
      expect(cue.end - cue.start).toBeLessThanOrEqual(CUE_SECONDS + 1e-9);
      expect(cue.text.length).toBeLessThanOrEqual(CUE_CHARACTERS);
      expect(cue.text.split('\n').length).toBeLessThanOrEqual(2);
    }
  });

  it('end with sentences and at long pauses', () => {
    const words = [...speak('Plant that heel properly. Then let the arm'), ...speak('settle down', 6)];
    expect(cutIntoCues(words).map((cue) => cue.text)).toEqual([
      'Plant that heel properly.',
      'Then let the arm',
      'settle down',
    ]);
  });
});
