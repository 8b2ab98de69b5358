import { parse } from 'csv-parse/sync';
import { describe, expect, it } from 'vitest';
import type { Sheet } from '../../../src/sheet/sheet.ts';
import { writeCsv } from '../../../src/sheet/writers/csv.ts';
import { writeHtml } from '../../../src/sheet/writers/html.tsx';
import { writeMarkdown } from '../../../src/sheet/writers/markdown.ts';
import { laterSheet } from '../later-sheet.ts';

/** The section of a page in plain text, a line for each paragraph and heading. */
function sectionOf(sheet: Sheet): string[] {
  const [, section = ''] = /<section class="since".*?>(.*?)<\/section>/s.exec(writeHtml(sheet)) ?? [];
  return section
    .split(/<\/(?:h2|h3|p|q)>/)
    .map((line) =>
      line
        .replace(/<[^>]*>/g, ' ')
        .replace(/\s+/g, ' ')
        .trim(),
    )
    .filter(Boolean);
}

describe('what became of the notes before', () => {
  it('stands in the Markdown sheet and on the page with the same words, in the same order', () => {
    const [, markdown = ''] = /## Since last time\n\n(.*?)\n\n## /s.exec(writeMarkdown(laterSheet())) ?? [];
    expect(markdown.split('\n').filter(Boolean)).toEqual([
      'The notes of v2.wav:',
      '### Done',
      '- Settle the hat (ticked off): "the hat does not pop any more"',
      '- Straighten the bow (unsure): "the hat does not pop any more"',
      '### Still there',
      '- Plant the left heel, 1040 to 1052 (asked for the third time, ticked off, note 1): "the left heel is still skating"',
      '### Taken back',
      '- Loosen the scarf: "forget the scarf it is fine"',
      '### Not mentioned',
      '- Lift the lamp (asked for the second time)',
    ]);
    expect(sectionOf(laterSheet())).toEqual([
      'Since last time',
      'The notes of v2.wav:',
      'Done',
      'Settle the hat ticked off',
      '0:03.0 the hat does not pop any more',
      'Straighten the bow unsure',
      '0:03.0 the hat does not pop any more',
      'Still there',
      'Plant the left heel, 1040 to 1052 asked for the third time ticked off note 1',
      '0:00.0 the left heel is still skating',
      'Taken back',
      'Loosen the scarf',
      '0:06.0 forget the scarf it is fine',
      'Not mentioned',
      'Lift the lamp asked for the second time',
    ]);
  });

  it('is told beside the note that carries an old one on, and beside no other', () => {
    const asked = 'the third time (last time: Plant the left heel, 1040 to 1052; it was ticked off)';
    expect(writeMarkdown(laterSheet()).match(/^- Asked for: .*$/gm)).toEqual([`- Asked for: ${asked}`]);
    const [names = [], first = [], second = []]: string[][] = parse(writeCsv(laterSheet()), { bom: true });
    const at = names.indexOf('asked for');
    expect([first[at], second[at]]).toEqual([asked, '']);
    const html = writeHtml(laterSheet());
    expect(html.match(/<span class="again">.*?<\/span>/g)).toEqual([
      '<span class="again">asked for the third time</span>',
    ]);
    expect(html.match(/<dt>Asked for<\/dt><dd>.*?<\/dd>/g)).toEqual([`<dt>Asked for</dt><dd>${asked}</dd>`]);
  });

  it('tells the greater number where a note carries two old ones on', () => {
    const sheet = laterSheet();
    const [heel] = sheet.previous?.notes ?? [];
    if (!heel) throw new Error('no old note');
    sheet.previous?.notes.unshift({ ...heel, asked: 2 });
    expect(writeHtml(sheet)).toContain('<span class="again">asked for the third time</span>');
  });

  it('is left out where nothing came before, or nothing was open', () => {
    const { previous, ...first } = laterSheet();
    if (!previous) throw new Error('no previous');
    for (const sheet of [first, { ...first, previous: { ...previous, notes: [] } }]) {
      expect(writeMarkdown(sheet)).not.toContain('Since last time');
      expect(writeHtml(sheet)).not.toContain('Since last time');
      expect(writeHtml(sheet)).not.toContain('class="again"');
    }
  });

  it('lets no old title or file name become a tag', () => {
    const evil = '<img src=x onerror=alert(1)>"\'';
    const sheet = laterSheet();
    const { previous } = sheet;
    if (!previous) throw new Error('no previous');
    previous.recording.file = evil;
    previous.notes = previous.notes.map((one) => ({
      ...one,
      note: { ...one.note, id: evil, title: evil },
      said: one.said.map((quote) => ({ ...quote, text: evil })),
    }));
    const html = writeHtml(sheet);
    expect(html).toContain('&lt;img src=x');
    expect(html).not.toContain('<img');
    expect(writeMarkdown(sheet)).not.toMatch(/(?<!\\)<img/);
  });
});
