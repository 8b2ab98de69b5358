import { z } from 'zod';

const timeSchema = z.object({
  OTIO_SCHEMA: z.literal('RationalTime.1'),
  rate: z.number().positive(),
  value: z.number(),
});

const markerSchema = z.object({
  OTIO_SCHEMA: z.string().regex(/^Marker\.[23]$/),
  name: z.string().nullable(),
  color: z.unknown(),
  comment: z.string().optional(),
  marked_range: z.object({
    OTIO_SCHEMA: z.literal('TimeRange.1'),
    start_time: timeSchema,
    duration: timeSchema,
  }),
});

/** A marker as another program would find it; frames with both ends included. */
export interface FoundMarker {
  readonly name: string;
  readonly comment: string;
  readonly color: unknown;
  readonly first: number;
  readonly last: number;
  readonly rate: number;
}

/** Every marker anywhere in an OpenTimelineIO text, by what the published data model says and nothing that critsheet adds. */
export function markersOf(text: string): FoundMarker[] {
  return objectsOf(JSON.parse(text))
    .filter(({ schema }) => schema.startsWith('Marker.'))
    .map(({ fields }) => {
      const { name, comment = '', color, marked_range: range } = markerSchema.parse(fields);
      const { start_time: start, duration } = range;
      const last = start.value + Math.max(1, duration.value) - 1;
      return { name: name ?? '', comment, color, first: start.value, last, rate: start.rate };
    });
}

/** An object of the data model: its schema and all its fields but that. */
export interface FoundObject {
  readonly schema: string;
  readonly fields: Readonly<Record<string, unknown>>;
}

/** Every object of the data model in a value, outermost first; metadata is free and not looked into. */
export function objectsOf(value: unknown): FoundObject[] {
  if (Array.isArray(value)) return value.flatMap(objectsOf);
  const fields = z.record(z.string(), z.unknown()).safeParse(value).data;
  if (!fields) return [];
  const inside = Object.entries(fields).flatMap(([key, item]) => (key === 'metadata' ? [] : objectsOf(item)));
  const schema = fields.OTIO_SCHEMA;
  return typeof schema === 'string' ? [{ schema, fields }, ...inside] : inside;
}
