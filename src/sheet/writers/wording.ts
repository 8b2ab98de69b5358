import type { Issue, Side, Strength } from '../../basics/terms.ts';
import { timecodeOf } from '../../basics/time.ts';
import type { Amount, BodyPart, Note } from '../../notes/note.ts';
import type { Sheet } from '../sheet.ts';

/** Each kind of fault in words that need no glossary. */
export const FAULTS: Readonly<Record<Issue, string>> = {
  pop: 'a hitch from one frame to the next',
  timing: 'too fast, too slow, too early or too late',
  spacing: 'starts or stops too hard or too softly',
  hold: 'stands dead, or is held too long or too briefly',
  arc: 'the path of the motion',
  anticipation: 'no wind-up before the action',
  overlap: 'drag and follow-through',
  weight: 'weight, balance or force',
  contact: 'slides, floats or passes through',
  pose: 'the shape of the pose',
  silhouette: 'the shape does not read clearly',
  tangent: 'edges that just touch',
  twinning: 'both sides do the same',
  staging: 'camera, composition or the angle to it',
  eyeline: 'where the eyes look',
  blink: 'blinks, darts or lids',
  expression: 'the face',
  lipsync: 'mouth shapes against the sound',
  acting: 'thought, reaction or story',
  exaggeration: 'too much or too little',
  continuity: 'the joins to the neighbouring shots',
  cloth: 'cloth, hair or rope',
};

const STRENGTHS: Readonly<Record<Strength, string>> = {
  must: 'has to be done',
  should: 'should be done',
  could: 'may be done if there is time',
};

/** "has to be done; an error of craft" */
export function weightOfNote(note: Note): string {
  return `${STRENGTHS[note.strength]}; ${note.basis === 'technical' ? 'an error of craft' : 'a matter of taste'}`;
}

/** "a hitch from one frame to the next (pop), or else spacing or weight"; null where no kind is known. */
export function faultOfNote(note: Note): string | null {
  if (!note.issue) return null;
  const others = note.issueAlternatives.join(' or ');
  return `${FAULTS[note.issue]} (${note.issue})${others && `, or else ${others}`}`;
}

/** "the beekeeper's left knee, right hand"; null where neither character nor part was said. */
export function placeOfNote(note: Note): string | null {
  const parts = note.body.map(partWords).join(', ');
  if (!note.character) return parts || null;
  return parts ? `${note.character}: ${parts}` : note.character;
}

const PAIR_NAMES: Readonly<Partial<Record<string, string>>> = {
  foot: 'feet',
  finger: 'fingers',
  eyes: 'eyes',
};

function partWords({ part, side }: BodyPart): string {
  if (part === 'body') return 'whole figure';
  if (side === null) return part;
  return side === 'both' ? `both ${PAIR_NAMES[part] ?? plural(part)}` : sided(part, side);
}

function sided(part: string, side: Side): string {
  return `${side} ${part === 'eyes' ? 'eye' : part}`;
}

function plural(part: string): string {
  return part.endsWith('s') ? part : `${part}s`;
}

/** "add 3 to 4 frames", "hold for 12 frames", "half"; null where no amount was said. */
export function amountOfNote(note: Note): string | null {
  const { amount } = note;
  if (!amount) return null;
  const size = quantity(amount);
  switch (amount.what) {
    case 'add':
      return `add ${size}`;
    case 'remove':
      return `take away ${size}`;
    case 'hold':
      return `hold for ${size}`;
    case 'earlier':
      return `${size} earlier`;
    case 'later':
      return `${size} later`;
  }
}

function quantity({ min, max, unit }: Amount): string {
  const range = min === max ? `${max}` : `${min} to ${max}`;
  if (unit === 'percent') return `${range} %`;
  const one = min === max && max === 1;
  return `${range} ${one ? unit.slice(0, -1) : unit}`;
}

const FRAME_SOURCES: Readonly<Record<string, string>> = {
  spoken: 'said aloud',
  playback: 'where the shot stood or played',
  neighbour: 'a guess from what was said around it',
};

/** "1042 to 1044 (00:00:01:17 to 00:00:01:19), said aloud"; timecode counts from the shot's first frame. */
export function framesOfNote(note: Note, shot: Sheet['shot']): string {
  if (!note.frames) return 'not said';
  const { first, last, source } = note.frames;
  const codes = [first, last].map((frame) => timecodeOf(frame - shot.first, shot.fps));
  const known = codes[0] && codes[1] ? ` (${first === last ? codes[0] : `${codes[0]} to ${codes[1]}`})` : '';
  return `${frameRange(note) ?? ''}${known}, ${FRAME_SOURCES[source] ?? source}`;
}

/** "1042 to 1044" or "1042"; null where the frames are not known. */
export function frameRange(note: Note): string | null {
  if (!note.frames) return null;
  const [first, last] = [note.frames.first, note.frames.last].map((frame) => Math.round(frame));
  return first === last ? `${first}` : `${first} to ${last}`;
}
