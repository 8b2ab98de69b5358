import { timecodeOf } from '../../../src/basics/time.ts';
import type { Timed } from './film.ts';
import { drawFace, type Face, type FontName, textWidth } from './glyphs.ts';
import { COLOURS, type Colour, Picture } from './picture.ts';

/** Lines of the screen above and below the shot. */
const SHOT_TOP = 30;
const SHOT_BOTTOM = 50;

/** What the person at the player does: the shot stands, plays at a multiple of its rate, or is dragged about. */
export type Move =
  | { readonly does: 'stand'; readonly seconds: number; readonly frame?: number }
  | { readonly does: 'play'; readonly seconds: number; readonly from?: number; readonly speed?: number }
  | { readonly does: 'scrub'; readonly seconds: number; readonly to: number }
  | { readonly does: 'step'; readonly seconds: number; readonly by: number };

export interface CounterLook {
  readonly font: FontName;
  readonly pixels: number;
  readonly colour: Colour;
  /** The colour of a box behind the digits, and how opaque it is; none where null. */
  readonly box: { readonly colour: Colour; readonly opacity: number } | null;
  /** Where the left end of the digits' foot stands. */
  readonly x: number;
  readonly y: number;
  readonly align?: 'left' | 'right';
  /** What is shown for a frame of the shot. */
  readonly shows: 'frame' | 'fromOne' | 'fromZero' | 'timecode' | 'timecodeOfFrame';
  readonly before?: string;
  readonly after?: string;
  readonly digits?: number;
}

export interface RecordedShot {
  readonly width: number;
  readonly height: number;
  readonly shot: { readonly fps: number; readonly first: number; readonly last: number };
  readonly moves: readonly Move[];
  /** Pictures a second of the screen recording. */
  readonly rate: number;
  /** Pictures where nothing changed are left out, as recorders with a variable rate do. */
  readonly variable?: boolean;
  readonly counter: CounterLook | null;
  readonly grain?: number;
}

/** The frame on the screen at each picture of the recording. */
export interface Shown {
  readonly seconds: number;
  readonly frame: number;
}

/** Plays the moves through and notes which frame each picture of the recording shows. */
export function framesShown({ moves, shot, rate }: RecordedShot): Shown[] {
  const shown: Shown[] = [];
  const within = (frame: number) => Math.min(shot.last, Math.max(shot.first, Math.floor(frame + 1e-6)));
  const length = shot.last - shot.first + 1;
  let frame = shot.first;
  let began = 0;
  for (const move of moves) {
    if (move.does === 'stand' && move.frame !== undefined) frame = move.frame;
    if (move.does === 'play' && move.from !== undefined) frame = move.from;
    const start = frame;
    const at = (since: number): number => {
      switch (move.does) {
        case 'stand':
          return start;
        case 'play': {
          const played = start - shot.first + since * shot.fps * (move.speed ?? 1);
          return shot.first + (((Math.floor(played + 1e-6) % length) + length) % length);
        }
        case 'scrub': {
          // A hand: slow at both ends, with a tremble on the way.
          const part = since / move.seconds;
          const smooth = part * part * (3 - 2 * part);
          return within(start + (move.to - start) * smooth + 2 * Math.sin(9 * part * Math.PI) * (1 - part));
        }
        case 'step':
          return within(start + (since > 0.08 ? move.by : 0));
      }
    };
    const pictures = Math.round(move.seconds * rate);
    for (let i = 0; i < pictures; i++) {
      frame = at(i / rate);
      shown.push({ seconds: (began + i) / rate, frame });
    }
    began += pictures;
  }
  return shown;
}

/** What the counter shows for a frame. */
export function counterText(frame: number, look: CounterLook, shot: RecordedShot['shot']): string {
  const pad = (value: number) => String(value).padStart(look.digits ?? 1, '0');
  switch (look.shows) {
    case 'frame':
      return pad(frame);
    case 'fromOne':
      return pad(frame - shot.first + 1);
    case 'fromZero':
      return pad(frame - shot.first);
    case 'timecode':
      return timecodeOf(frame - shot.first, shot.fps) ?? '';
    case 'timecodeOfFrame':
      return timecodeOf(frame, shot.fps) ?? '';
  }
}

/** The pictures of a screen on which a shot is reviewed: a window, a ruler with numbers, the shot, its counter. */
export async function* screenPictures(recorded: RecordedShot): AsyncGenerator<Timed> {
  const { counter } = recorded;
  const screen = await emptyWindow(recorded);
  const face = counter ? await drawFace(counter.font, counter.pixels) : null;
  const drawn = new Map<number, Picture>();
  let last = Number.NaN;
  for (const { seconds, frame } of framesShown(recorded)) {
    if (recorded.variable && frame === last) continue;
    last = frame;
    let picture = drawn.get(frame);
    if (!picture) {
      picture = screen.copy();
      drawShot(picture, frame, recorded);
      if (counter && face) drawCounter(picture, frame, counter, face, recorded.shot);
      drawn.set(frame, picture);
    }
    yield { seconds, picture };
  }
}

async function emptyWindow({ width, height, shot }: RecordedShot): Promise<Picture> {
  const picture = new Picture(width, height);
  picture.fill(0, 0, width, height, COLOURS.grey);
  const small = await drawFace('openSans', 13);
  picture.write('sq20_sh040  v012  24 fps', 12, 18, small, COLOURS.paleGrey);
  picture.write('10:42', width - 60, 18, small, COLOURS.paleGrey);
  const ruler = height - 24;
  picture.fill(0, ruler - 16, width, 1, COLOURS.paleGrey);
  for (let tick = 0; tick <= 8; tick++) {
    const frame = Math.round(shot.first + (tick / 8) * (shot.last - shot.first));
    picture.write(String(frame), 20 + (tick / 8) * (width - 80), ruler, small, COLOURS.paleGrey);
  }
  return picture;
}

/** How bright the shot's picture is on a line of the screen, its stripes and grain apart. */
export function groundBrightness(y: number, { height }: Pick<RecordedShot, 'height'>): number {
  const high = height - SHOT_TOP - SHOT_BOTTOM;
  const row = y - SHOT_TOP;
  return row < 0.6 * high ? 150 - (70 * row) / high : 70 + (60 * row) / high;
}

/** A ball on its way over a floor with a grain, so that something in the picture changes with each frame. */
function drawShot(picture: Picture, frame: number, { width, height, shot, grain = 6 }: RecordedShot): void {
  const [left, top, wide, high] = [0, SHOT_TOP, width, height - SHOT_TOP - SHOT_BOTTOM];
  const part = (frame - shot.first) / Math.max(1, shot.last - shot.first);
  let state = frame * 7919 + 1;
  for (let row = 0; row < high; row++) {
    const base = groundBrightness(top + row, { height });
    for (let column = 0; column < wide; column++) {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      const noise = ((state >>> 24) / 255 - 0.5) * 2 * grain;
      const stripe = (column + Math.round(part * 300)) % 160 < 24 ? 22 : 0;
      picture.bytes[(top + row) * picture.width + left + column] = Math.round(base + noise + stripe);
    }
  }
  const x = left + wide * (0.15 + 0.7 * part);
  const y = top + high * (0.75 - 0.5 * Math.abs(Math.sin(part * 9)));
  for (let row = -30; row <= 30; row++) {
    const half = Math.round(Math.sqrt(900 - row * row));
    picture.fill(x - half, y + row, 2 * half, 1, [205, 100, 160]);
  }
}

function drawCounter(
  picture: Picture,
  frame: number,
  look: CounterLook,
  face: Face,
  shot: RecordedShot['shot'],
): void {
  const text = `${look.before ?? ''}${counterText(frame, look, shot)}${look.after ?? ''}`;
  const wide = textWidth(text, face);
  const x = look.align === 'right' ? look.x - wide : look.x;
  if (look.box) {
    const pad = 0.35 * look.pixels;
    picture.fill(
      x - pad,
      look.y - 0.75 * look.pixels - pad,
      wide + 2 * pad,
      0.75 * look.pixels + 2 * pad,
      look.box.colour,
      look.box.opacity,
    );
  }
  picture.write(text, x, look.y, face, look.colour);
}
