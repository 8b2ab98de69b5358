import { exactRate } from '../../basics/rate.ts';
import type { Note } from '../../notes/note.ts';
import type { Sheet } from '../sheet.ts';
import { sortNotes } from '../sort-notes.ts';
import type { Writer } from './writer.ts';

/** OpenTimelineIO's JSON as its data model is published for versions 0.15 to 0.18; what each object is called there. */
const SCHEMA = 'OTIO_SCHEMA';

/**
 * The shot as a timeline of one clip that carries the notes as markers (OpenTimelineIO, JSON). Clip and markers count in shot frames, so that a note on
 * 1042 to 1044 is a marker that starts at 1042 and lasts 3. What has no frames, or was taken back, can be no marker: it
 * stands in the clip's metadata.
 */
export function writeOtio(sheet: Sheet): string {
  const { shot, recording } = sheet;
  const { fixes, optional, keeps, withdrawn } = sortNotes(sheet);
  const standing = [...fixes, ...optional, ...keeps].sort((a, b) => a.rank - b.rank);
  const rate = exactRate(shot.fps).perSecond;
  const placed = standing.filter((note) => note.frames !== null);
  const lastNoted = Math.max(shot.first, ...placed.map((note) => Math.round(note.frames?.last ?? 0)));
  const range = timeRange(shot.first, shot.last ?? lastNoted, rate);
  const clip = {
    [SCHEMA]: 'Clip.2',
    metadata: {
      critsheet: {
        recording: { file: recording.file, sha256: recording.sha256 },
        lastFrameKnown: shot.last !== null,
        withoutFrames: standing.filter((note) => note.frames === null).map(inFull),
        takenBack: withdrawn.map(inFull),
      },
    },
    name: shot.name,
    source_range: range,
    effects: [],
    markers: placed.map((note) => marker(note, rate)),
    enabled: true,
    media_references: {
      DEFAULT_MEDIA: {
        [SCHEMA]: 'MissingReference.1',
        metadata: {},
        name: shot.name,
        available_range: range,
        available_image_bounds: null,
      },
    },
    active_media_reference_key: 'DEFAULT_MEDIA',
  };
  const track = { ...item('Track.1', shot.name), children: [clip], kind: 'Video' };
  const timeline = {
    [SCHEMA]: 'Timeline.1',
    metadata: {},
    name: shot.name,
    global_start_time: null,
    tracks: { ...item('Stack.1', 'tracks'), children: [track] },
  };
  return `${JSON.stringify(timeline, null, 2)}\n`;
}

/** What tracks and stacks have in common. */
function item(schema: string, name: string) {
  return {
    [SCHEMA]: schema,
    metadata: {},
    name,
    source_range: null,
    effects: [],
    markers: [],
    enabled: true,
  };
}

function marker(note: Note, rate: number) {
  const [first, last] = [note.frames?.first ?? 0, note.frames?.last ?? 0].map(Math.round);
  return {
    [SCHEMA]: 'Marker.2',
    metadata: { critsheet: inFull(note) },
    name: note.title,
    color: colourOf(note),
    marked_range: timeRange(first ?? 0, last ?? 0, rate),
    comment: note.spans.map((span) => span.text).join(' '),
  };
}

/** Of the colours that OpenTimelineIO names. */
function colourOf(note: Note): string {
  if (note.role === 'keep') return 'GREEN';
  return { must: 'RED', should: 'ORANGE', could: 'YELLOW' }[note.strength];
}

/** A note without what only a reading again would need. */
function inFull(note: Note) {
  const { confidence: _, priority: __, issueAlternatives: ___, ...rest } = note;
  return rest;
}

/** Frames with both ends included, as a start and a duration. */
function timeRange(first: number, last: number, rate: number) {
  const time = (value: number) => ({ [SCHEMA]: 'RationalTime.1', rate, value });
  return { [SCHEMA]: 'TimeRange.1', duration: time(last - first + 1), start_time: time(first) };
}

export const otio: Writer<Sheet> = {
  ending: '.otio',
  says: 'markers on a clip of the shot (OpenTimelineIO)',
  leavesOut: 'the words and statements that are in no note, other readings and the confidences',
  write: writeOtio,
};
