import { STRENGTHS, type Strength } from '../basics/terms.ts';
import type { Note } from '../notes/note.ts';
import { askedFields } from './asked-fields.ts';
import type { Fields } from './corrections.ts';

/** Another way to understand a note: fields to set, or that it is no note. */
export interface OtherReading {
  readonly says: string;
  readonly fields: Fields | 'drop';
}

const MOST_READINGS = 9;

const STRENGTHS_SAY: Readonly<Record<Strength, string>> = {
  must: 'has to be done',
  should: 'should be done',
  could: 'may be done if there is time',
};

/** The next-best readings of a note, those of its least sure tag first. */
export function otherReadings(note: Note): OtherReading[] {
  const order = [...askedFields(note), 'issue', 'role', 'strength', 'basis', 'body'];
  const readings = [...new Set(order)].flatMap((tag) => READINGS[tag]?.(note) ?? []);
  return readings.slice(0, MOST_READINGS);
}

const READINGS: Readonly<Record<string, (note: Note) => OtherReading[]>> = {
  issue: (note) => note.issueAlternatives.map((issue) => ({ says: `kind: ${issue}`, fields: { issue } })),
  role: (note) => [
    note.role === 'fix'
      ? { says: 'a thing to keep', fields: { role: 'keep' } }
      : { says: 'a thing to fix', fields: { role: 'fix' } },
    { says: 'no note, only talk', fields: 'drop' },
  ],
  strength: (note) =>
    STRENGTHS.filter((strength) => strength !== note.strength).map((strength) => ({
      says: STRENGTHS_SAY[strength],
      fields: { strength },
    })),
  basis: (note) => [
    note.basis === 'technical'
      ? { says: 'a matter of taste', fields: { basis: 'taste' } }
      : { says: 'an error of craft', fields: { basis: 'technical' } },
  ],
  body: (note) =>
    note.body.some(({ side }) => side === 'left' || side === 'right')
      ? [
          {
            says: 'the other side',
            fields: {
              body: note.body.map((one) => ({
                ...one,
                side: one.side === 'left' ? 'right' : one.side === 'right' ? 'left' : one.side,
              })),
            },
          },
        ]
      : [],
  frames: (note) => (note.frames ? [{ says: 'no frames were said', fields: { frames: null } }] : []),
};
