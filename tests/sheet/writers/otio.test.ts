import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Sheet } from '../../../src/sheet/sheet.ts';
import { writeOtio } from '../../../src/sheet/writers/otio.ts';
import { savedSheet } from '../saved-sheet.ts';
import { markersOf, objectsOf } from './otio-markers.ts';

const fixture = (name: string): string =>
  readFileSync(new URL(`../../fixtures/opentimelineio/${name}`, import.meta.url), 'utf8');

/** OpenTimelineIO's published list of the fields of each object, and its marker colours; see the fixture's README. */
const published = z
  .object({ fields: z.record(z.string(), z.array(z.string())), colours: z.array(z.string()) })
  .parse(JSON.parse(fixture('fields.json')));

function hostile(): Sheet {
  const sheet = savedSheet();
  const notes = sheet.notes.map((note, i) =>
    i === 0
      ? {
          ...note,
          title: 'The "knee" \u2028 pops\n\\ über 膝',
          spans: [{ start: 1, end: 2, text: '</x> "tick"\t' }],
        }
      : note,
  );
  return { ...sheet, notes };
}

describe.each([
  ['an ordinary sheet', savedSheet()],
  ['a title with quotes, lines and other scripts', hostile()],
  ['a sheet without notes', { ...savedSheet(), notes: [] }],
  [
    'a shot at 23.976 of unknown length',
    { ...savedSheet(), shot: { ...savedSheet().shot, fps: 23.976, last: null } },
  ],
])('OpenTimelineIO of %s', (_, sheet) => {
  const text = writeOtio(sheet);
  const placed = sheet.notes.filter((note) => note.frames && !note.withdrawn);

  it('gives every placed note back, with its frames and text', () => {
    const found = markersOf(text);
    expect(found.map(({ name, comment, first, last }) => ({ name, comment, first, last }))).toEqual(
      placed.map((note) => ({
        name: note.title,
        comment: note.spans.map((span) => span.text).join(' '),
        first: note.frames?.first,
        last: note.frames?.last,
      })),
    );
  });

  it('uses only objects, fields and colours of the published data model', () => {
    for (const { schema, fields } of objectsOf(JSON.parse(text))) {
      const known = published.fields[schema];
      expect(known, schema).toBeDefined();
      // The published list leaves out `children`; the sample has it in these two.
      const children = ['Stack.1', 'Track.1'].includes(schema) ? ['children'] : [];
      expect(Object.keys(fields).sort()).toEqual(['OTIO_SCHEMA', ...(known ?? []), ...children].sort());
    }
    for (const { color } of markersOf(text)) expect(published.colours).toContain(color);
  });

  it('loses no note that has no place', () => {
    const clip = objectsOf(JSON.parse(text)).find(({ schema }) => schema === 'Clip.2');
    for (const note of sheet.notes) expect(JSON.stringify(clip)).toContain(JSON.stringify(note.title));
  });
});

describe('OpenTimelineIO', () => {
  it('marks frames in the count of the clip, whose range is the shot', () => {
    const clip = objectsOf(JSON.parse(writeOtio(savedSheet()))).find(({ schema }) => schema === 'Clip.2');
    expect(clip?.fields.source_range).toMatchObject({
      start_time: { value: 1001, rate: 24 },
      duration: { value: 96, rate: 24 },
    });
  });

  it('counts 23.976 as 24000/1001', () => {
    const sheet = { ...savedSheet(), shot: { ...savedSheet().shot, fps: 23.976 } };
    expect(markersOf(writeOtio(sheet))[0]?.rate).toBeCloseTo(24000 / 1001, 12);
  });

  // The sample file of OpenTimelineIO itself: what nests in what, and the kind of every value.
  it('nests as the published sample does, with values of the same kinds', () => {
    const ours = objectsOf(JSON.parse(writeOtio(savedSheet())));
    const sample = objectsOf(JSON.parse(fixture('clip_example.otio')));
    const marker = objectsOf(JSON.parse(fixture('empty_marker.json')));
    expect(ours.slice(0, 3).map(({ schema }) => schema)).toEqual(
      sample.slice(0, 3).map(({ schema }) => schema),
    );
    let compared = 0;
    for (const theirs of [...sample, ...marker]) {
      // Clip.2 differs from Clip.1 by a table of media references in place of one.
      const own = ours.find(({ schema }) => schema === theirs.schema.replace('Clip.1', 'Clip.2'));
      if (!own) continue;
      for (const [key, value] of Object.entries(theirs.fields)) {
        if (!(key in own.fields) || key === 'OTIO_SCHEMA') continue;
        const kinds = [kindOf(value), kindOf(own.fields[key])];
        if (!kinds.includes('null')) expect(kinds[1], `${theirs.schema} ${key}`).toBe(kinds[0]);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(40);
  });
});

function kindOf(value: unknown): string {
  if (value === null) return 'null';
  return Array.isArray(value) ? 'list' : typeof value;
}
