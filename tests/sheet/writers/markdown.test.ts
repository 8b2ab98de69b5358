import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { writeMarkdown } from '../../../src/sheet/writers/markdown.ts';
import { savedSheet } from '../saved-sheet.ts';

/** The headings of a Markdown text and the titles of notes under them, in order. */
function headings(text: string): string[] {
  return text.split('\n').filter((line) => /^#{1,3} /.test(line));
}

describe('the Markdown sheet', () => {
  it('is, to the letter, the page beside this test', () => {
    const expected = readFileSync(new URL('critsheet-1.sheet.md', import.meta.url), 'utf8');
    expect(writeMarkdown(savedSheet())).toBe(expected);
  });

  it('goes from what to do first to what was left out', () => {
    expect(headings(writeMarkdown(savedSheet()))).toEqual([
      '# bk12_sh030',
      '## Do first',
      '## Along the shot',
      '## To change',
      '### 1. Plant the left heel',
      '### 2. Give the landing more frames',
      '## To keep as it is',
      '### 4. Keep the turn of the head',
      '## If there is time',
      '### 3. Tip the cap further',
      '## To look at, because the reading is unsure',
      '## Taken back',
      '### 5. Move the blink earlier',
      '## What was heard',
      '### Chatter',
      "### The shot's own dialogue",
    ]);
  });

  it('loses no statement: each is quoted with its time', () => {
    const sheet = savedSheet();
    const text = writeMarkdown(sheet).replaceAll('\\', '');
    for (const statement of sheet.statements) expect(text).toContain(`"${statement.text}"`);
  });

  it('tells what was heard where a word was put in by its sound', () => {
    const sheet = savedSheet();
    const span = sheet.notes.flatMap(({ spans }) => spans)[0];
    const word = span && sheet.words.find(({ start }) => start >= span.start);
    if (!word) throw new Error('the saved sheet has no words in its notes');
    word.heard = 'sumthing';
    const text = writeMarkdown(sheet).replaceAll('\\', '');
    expect(text).toMatch(/^- At .*" \(".*" was heard as "sumthing"\)$/m);
  });

  it('names at most three things to do first', () => {
    const sheet = savedSheet();
    const [note] = sheet.notes;
    if (!note) throw new Error('the saved sheet has no note');
    sheet.notes = [1, 2, 3, 4, 5].map((rank) => ({ ...note, id: `n${rank}`, rank }));
    expect(
      writeMarkdown(sheet)
        .split('\n')
        .filter((line) => line.startsWith('- Note ')),
    ).toHaveLength(3);
  });

  it('says of a silent recording that nothing was heard', () => {
    const silent = { ...savedSheet(), words: [], statements: [], notes: [] };
    const text = writeMarkdown(silent);
    expect(text).toContain('No speech was heard in this recording, so this sheet has no notes.');
    expect(headings(text)).toEqual(['# bk12_sh030']);
  });

  it('says of mere chatter that it asks for nothing, and quotes it', () => {
    const sheet = savedSheet();
    const statements = sheet.statements.filter((statement) => statement.role === 'aside');
    const text = writeMarkdown({ ...sheet, statements, notes: [] });
    expect(text).toContain('Nothing that was said asks for a change or names a thing to keep.');
    expect(text).toContain('Okay, let me play the baker from the top.');
  });

  it('lets no quoted word become a tag, a link or a heading', () => {
    const sheet = savedSheet();
    const evil = '# <img src=x onerror=alert(1)> [a](b) **c**';
    sheet.statements = sheet.statements.map((statement) => ({ ...statement, text: evil }));
    sheet.notes = sheet.notes.map((note) => ({
      ...note,
      title: evil,
      character: evil,
      options: [evil],
      check: [evil],
      spans: [{ start: 0, end: 1, text: evil }],
    }));
    const text = writeMarkdown({ ...sheet, shot: { ...sheet.shot, name: evil } });
    expect(text).not.toMatch(/(?<!\\)<img/);
    expect(text).not.toMatch(/(?<!\\)\[a/);
    expect(text).not.toMatch(/(?<!\\)\*/);
  });
});
