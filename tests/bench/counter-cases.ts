import type { FontName } from '../recording/screen/glyphs.ts';
import { COLOURS } from '../recording/screen/picture.ts';
import {
  type CounterLook,
  framesShown,
  groundBrightness,
  type Move,
  type RecordedShot,
} from '../recording/screen/recorded-shot.ts';

export interface CounterCase {
  readonly name: string;
  readonly recorded: RecordedShot;
  readonly crf: number;
  /** Digits at least 10 pixels high that differ from their ground by 50 levels of brightness or more. */
  readonly legible: boolean;
  readonly ending: 'mp4' | 'mkv' | 'mov';
}

/**
 * Whether nothing that was shown tells frame numbers from counting from 0 or 1: a reader can but guess. Timecode is not
 * guessed at.
 */
export function isAmbiguous({ recorded }: CounterCase): boolean {
  const { counter, shot } = recorded;
  const zeros = { frame: 0, fromOne: shot.first - 1, fromZero: shot.first };
  const shows = counter?.shows;
  if (shows !== 'frame' && shows !== 'fromOne' && shows !== 'fromZero') return false;
  const numbers = framesShown(recorded).map(({ frame }) => frame - zeros[shows]);
  return Object.values(zeros).some(
    (zero) =>
      zero !== zeros[shows] &&
      numbers.every((number) => number + zero >= shot.first && number + zero <= shot.last),
  );
}

/** Numbers that are the same on every run (a linear congruential generator; Numerical Recipes, section 7.1). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  for (let i = 0; i < 8; i++) next();
  return next;
}

const FACES: readonly FontName[] = ['arimo', 'arimoBold', 'cousine', 'openSans', 'robotoMono'];
const STYLES: readonly Pick<CounterLook, 'colour' | 'box'>[] = [
  { colour: COLOURS.white, box: { colour: COLOURS.black, opacity: 1 } },
  { colour: COLOURS.white, box: { colour: COLOURS.black, opacity: 0.6 } },
  { colour: COLOURS.yellow, box: { colour: COLOURS.black, opacity: 0.8 } },
  { colour: COLOURS.green, box: { colour: COLOURS.black, opacity: 1 } },
  { colour: COLOURS.black, box: { colour: COLOURS.white, opacity: 1 } },
  { colour: COLOURS.cyan, box: null },
  { colour: COLOURS.white, box: null },
  { colour: COLOURS.black, box: null },
];
const SHOWS: readonly CounterLook['shows'][] = [
  'frame',
  'frame',
  'frame',
  'fromOne',
  'fromZero',
  'timecode',
  'timecodeOfFrame',
];
const RANGES = [
  { first: 1001, last: 1168 },
  { first: 1, last: 144 },
  { first: 101, last: 220 },
  { first: 0, last: 95 },
];

/** A person at a player for about so long: plays, stops, steps, drags, plays slowly. */
function moves(
  random: () => number,
  { first, last }: { first: number; last: number },
  seconds: number,
): Move[] {
  const list: Move[] = [{ does: 'stand', seconds: 0.5 + random() }];
  const any = () => first + Math.floor(random() * (last - first + 1));
  let sum = 1;
  while (sum < seconds) {
    const pick = random();
    const lasts = 0.5 + 2.5 * random();
    if (pick < 0.3) list.push({ does: 'play', seconds: lasts });
    else if (pick < 0.4) list.push({ does: 'play', seconds: lasts, from: any() });
    else if (pick < 0.46) list.push({ does: 'play', seconds: lasts, speed: 0.5 });
    else if (pick < 0.62) list.push({ does: 'stand', seconds: 1.5 * lasts });
    else if (pick < 0.8) list.push({ does: 'scrub', seconds: lasts, to: any() });
    else {
      const by = random() < 0.6 ? 1 : -1;
      for (let i = 0; i < 4; i++) list.push({ does: 'step', seconds: 0.25 + 0.5 * random(), by });
    }
    sum = list.reduce((all, move) => all + move.seconds, 0);
    if (random() < 0.6) list.push({ does: 'stand', seconds: 0.3 + random() });
  }
  return list;
}

/** Recordings of every kind, each of its own seed. */
export function counterCases(count: number, seconds: number): CounterCase[] {
  return Array.from({ length: count }, (_, i): CounterCase => {
    const random = seeded(i + 1);
    const one = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
    const [width, height] = one([
      [640, 360],
      [960, 540],
      [1280, 720],
    ] as const);
    const pixels = 15 + Math.floor(random() * random() * 40);
    const range = one(RANGES);
    const shows = one(SHOWS);
    const fps = one([24, 24, 30, 25]);
    const style = one(STYLES);
    const align = random() < 0.3 ? 'right' : 'left';
    const wide = shows.startsWith('timecode') ? 7 * pixels : 3 * pixels;
    const x = align === 'right' ? width - 30 : 25 + Math.floor(random() * (width - wide - 60));
    const top = 32 + 1.3 * pixels;
    const y = Math.round(random() < 0.5 ? top + 8 : height - 62 - 0.4 * pixels);
    const digits = shows === 'frame' && range.first !== 1001 ? one([1, 4]) : 1;
    const ground = groundBrightness(y, { height });
    const behind = style.box
      ? style.box.colour[0] * style.box.opacity + ground * (1 - style.box.opacity)
      : ground;
    return {
      legible: 0.7 * pixels >= 10 && Math.abs(style.colour[0] - behind) >= 50,
      name: `${i + 1}`,
      crf: one([20, 23, 28]),
      ending: one(['mp4', 'mkv', 'mov'] as const),
      recorded: {
        width,
        height,
        shot: { fps, ...range },
        rate: one([24, 30, 30, 60]),
        variable: random() < 0.3,
        moves: moves(random, range, seconds),
        counter: { font: one(FACES), pixels, ...style, x, y, align, shows, digits },
      },
    };
  });
}
