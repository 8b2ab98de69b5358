import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PersonError } from '../../src/basics/problem.ts';
import { readCaptions } from '../../src/transcript/read-captions.ts';
import { spreadWords } from '../../src/transcript/spread-words.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'captions-'));
});
afterAll(() => rm(folder, { recursive: true }));

async function read(name: string, content: string | Buffer) {
  await writeFile(join(folder, name), content);
  return readCaptions(join(folder, name));
}

const VTT = `WEBVTT - review

STYLE
::cue { color: white }

NOTE second cue first, on purpose

two
00:04.000 --> 00:06.000 align:start position:0%
<v Mira>the <i>left</i> knee &amp; heel & toe

1
00:00:01.000 --> 00:00:02.500
Ease it in,
a little
`;

describe('captions', () => {
  it('reads WebVTT: order, tags, speakers, entities, notes and styles', async () => {
    const { transcript, problems } = await read('a.vtt', VTT);
    expect(transcript.words.map((word) => word.text).join(' ')).toBe(
      'Ease it in, a little the left knee & heel & toe',
    );
    expect(transcript.words[0]).toEqual({
      text: 'Ease',
      start: 1,
      end: expect.closeTo(1.375, 3),
      confidence: 1,
    });
    expect(transcript.words[4]?.end).toBe(2.5);
    expect(transcript.words.at(-1)?.end).toBe(6);
    expect(transcript.model).toEqual({ id: 'captions', sha256: null });
    expect(transcript.recording).toMatchObject({ file: 'a.vtt', duration: 6 });
    expect(transcript.recording.sha256).toMatch(/^[0-9a-f]{64}$/);
    expect(problems).toEqual([]);
  });

  it('reads SubRip with a byte order mark, Windows line ends, tags and position marks', async () => {
    const srt =
      '\uFEFF1\r\n00:00:04,000 --> 00:00:05,000\r\n{\\an8}<i>pops</i> &amp; ticks\r\n\r\n2\r\n00:00:01,000 --> 00:00:02,000\r\n<font color="#fff">the wrist</font>\r\n';
    const { transcript } = await read('b.srt', srt);
    expect(transcript.words.map(({ text, start, end }) => [text, start, end])).toEqual([
      ['the', 1, 1.375],
      ['wrist', 1.375, 2],
      ['pops', 4, 4.4],
      ['&', 4.4, 4.5],
      ['ticks', 4.5, 5],
    ]);
  });

  it('reads UTF-16 with a byte order mark', async () => {
    const { transcript } = await read(
      'c.vtt',
      Buffer.from(`\uFEFFWEBVTT\n\n00:01.000 --> 00:02.000\ncafé\n`, 'utf16le'),
    );
    expect(transcript.words[0]?.text).toBe('café');
  });

  it('keeps words in order where cues overlap', async () => {
    const { transcript } = await read(
      'd.vtt',
      'WEBVTT\n\n00:01.000 --> 00:05.000\none two three\n\n00:02.000 --> 00:03.000\nfour\n\n00:02.000 --> 00:03.000\nfive\n',
    );
    let reached = 0;
    for (const { start, end } of transcript.words) {
      expect(start).toBeGreaterThanOrEqual(reached);
      expect(end).toBeGreaterThanOrEqual(start);
      reached = end;
    }
  });

  it('reads the captions round one that cannot be read, and names its line', async () => {
    const { transcript, problems } = await read(
      'e.srt',
      '1\nat 3 s, soon\nlost\n\n2\n00:00:01,000 --> 00:00:02,000\nthe wrist &#99999999999;\n\n3\n00:00:04,000 --> 00:00:05,000\npops\n',
    );
    expect(transcript.words.map(({ text }) => text)).toEqual(['the', 'wrist', '&#99999999999;', 'pops']);
    expect(problems.map(({ message }) => message)).toEqual(['In e.srt, line 1: The times cannot be read.']);
  });

  it.each([
    ['empty.vtt', ''],
    ['empty.srt', ''],
    ['header-only.vtt', 'WEBVTT\n\n'],
    ['prose.srt', 'These are my notes, and no captions at all.'],
    ['sound.vtt', Buffer.from([0, 255, 1, 254, 7, 0, 0, 9])],
  ])('says in one sentence what is wrong with %s', async (name, content) => {
    const failure = await read(name, content).catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(PersonError);
    expect(String(failure)).toContain(name);
    expect(String(failure)).not.toContain('\n');
  });

  it('says that a file is not there, or not of a kind it reads', async () => {
    await expect(readCaptions(join(folder, 'gone.vtt'))).rejects.toThrow(PersonError);
    await expect(readCaptions(join(folder, 'notes.txt'))).rejects.toThrow(/\.vtt or an \.srt/);
  });
});

describe('spreading words', () => {
  it('fills the stretch by letters', () => {
    expect(spreadWords(' a bcd ', { start: 2, end: 6 })).toEqual([
      { text: 'a', start: 2, end: 3 },
      { text: 'bcd', start: 3, end: 6 },
    ]);
    expect(spreadWords('  ', { start: 0, end: 1 })).toEqual([]);
  });
});
