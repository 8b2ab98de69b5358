import type { Critique } from '../../../src/measure/critique.ts';
import type { Move } from './player.ts';

/** Ways in which a mentor finds the frame that a note is about. */
export const WAYS = [
  'stopped on it',
  'stopped on it a while ago',
  'stepped to it, told in words',
  'dragged to it in silence',
  'a span that was played',
  'a span that was dragged through',
  '"there" while it plays',
  'went by a moment ago',
] as const;
export type Way = (typeof WAYS)[number];

/** How often each is drawn, in parts of a hundred: a guess at how mentors work, most of whom stop the shot and talk. */
const SHARES: readonly number[] = [30, 15, 12, 10, 8, 5, 12, 8];

function drawn(random: () => number): Way {
  const mark = random() * SHARES.reduce((sum, share) => sum + share, 0);
  let sum = 0;
  const at = SHARES.findIndex((share) => {
    sum += share;
    return mark < sum;
  });
  return WAYS[at] ?? WAYS[0];
}

/** What a staged note is about, in shot frames, both ends included. */
export interface Truth {
  readonly way: Way;
  first: number;
  last: number;
}

interface Scene {
  readonly way: Way;
  readonly note: string;
  /** The segment before which it is staged, and the frames it is about. */
  readonly segment: number;
  readonly truth: Truth;
  readonly playedSeconds: number;
  /** Between the end of the playing and the first word. */
  readonly restSeconds: number;
  /** Between the moment that is meant and the word or the sentence about it. */
  readonly lagSeconds: number;
  /** For how long the shot plays on after the moment that is meant. */
  readonly onSeconds: number;
  readonly steps: number;
  /** The word of the segment that points. */
  readonly pointingWord: number;
}

/** Steps as mentors tell them, and how many frames onward each is. */
const TOLD_STEPS: readonly (readonly [string, number])[] = [
  ['One more.', 1],
  ['Okay, next frame.', 1],
  ['And one more, one more.', 2],
  ['Hang on, forward one, forward one.', 2],
  ['Let me go back two.', -2],
  ['Back one, back one, back one.', -3],
  ['Uh, go back one.', -1],
  ['Step forward three frames.', 3],
  ['Back up a couple.', -2],
];
const SPANS = ['This whole bit,', 'This whole section,', 'All of this,', 'That part we just saw,'] as const;
const MUSINGS = [
  'Hm. Let me think how to put this.',
  'Right. Okay. Where was I.',
  'Mm, yeah, okay.',
] as const;
const POINTERS = ['Watch, watch. There.', 'Wait for it. Right there.', 'See? There.'] as const;

const between = (random: () => number, low: number, high: number): number => low + random() * (high - low);

/** A critique with room for playing before its notes, and the words with which a mentor would point and step. */
export interface Staged {
  readonly critique: Critique;
  readonly truth: ReadonlyMap<string, Truth>;
  /** What the mentor does with the player, once it is known when each segment is said. */
  movesFor(
    times: readonly { start: number; end: number; firstWord: number }[],
    wordStart: (word: number) => number,
  ): Move[];
}

/** Stages every note: those that say no frame in a way drawn by lot, the others stopped on the frame they say. */
export function stage(original: Critique, random: () => number): Staged {
  const { first, last } = original.shot;
  const critique = { ...structuredClone(original), segments: [] as Critique['segments'] };
  const scenes: Scene[] = [];
  const truth = new Map<string, Truth>();
  const seen = new Set<string>();
  const say = (text: string): void => void critique.segments.push({ say: text, pause: 0.3, role: 'aside' });
  const pause = (seconds: number): void => {
    const before = critique.segments.at(-1);
    if (before) before.pause += seconds;
  };
  for (const segment of structuredClone(original.segments)) {
    const { note } = segment;
    if (!note || seen.has(note)) {
      critique.segments.push(segment);
      continue;
    }
    seen.add(note);
    const said = original.notes[note]?.frames;
    const way = said ? 'stopped on it' : drawn(random);
    const one = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)] as T;
    const playedSeconds = between(random, 0.8, 2.5);
    const room = Math.min(Math.round(original.fps * 0.8), last - first);
    const frame = said?.[0] ?? first + room + Math.floor(random() * (last - first - room + 1));
    const about: Truth = { way, first: frame, last: frame };
    const scene = {
      ...{ way, note, truth: about, playedSeconds, steps: 0, pointingWord: 0 },
      restSeconds: way === 'stopped on it a while ago' ? between(random, 3, 15) : between(random, 0.2, 1.2),
      lagSeconds: way === 'went by a moment ago' ? between(random, 0.5, 1.5) : between(random, 0.2, 0.5),
      onSeconds: between(random, 1.5, 4),
    };
    pause(playedSeconds + scene.restSeconds + 2.5);
    let at = critique.segments.length;
    if (way === 'stopped on it a while ago') say(one(MUSINGS));
    if (way === 'stepped to it, told in words') {
      const [text, steps] = one(TOLD_STEPS);
      say(text);
      scene.steps = steps;
    }
    if (way.startsWith('a span')) segment.say = `${one(SPANS)} ${segment.say}`;
    if (way === '"there" while it plays') {
      const pointer = one(POINTERS);
      segment.say = `${pointer} ${segment.say}`;
      scene.pointingWord = pointer.split(' ').length - 1;
      at = critique.segments.length;
    }
    critique.segments.push(segment);
    scenes.push({ ...scene, segment: at });
    if (!said) truth.set(note, about);
  }
  const movesFor: Staged['movesFor'] = (times, wordStart) => {
    const moves: Move[] = [];
    for (const scene of scenes) {
      const time = times[scene.segment];
      if (time) for (const move of played(scene, time, wordStart, original)) push(moves, move);
    }
    return moves;
  };
  return { critique, truth, movesFor };
}

/** Nobody does two things at once: what would still go on when the next thing begins ends there. */
function push(moves: Move[], move: Move): void {
  const before = moves.at(-1);
  if (before && before.end > move.start) {
    const part = Math.max(0, (move.start - before.start) / Math.max(1e-6, before.end - before.start));
    before.last = before.first + part * (before.last - before.first);
    before.end = move.start;
  }
  moves.push(move);
}

/** How a scene is played: its moves, and for spans what was played in the end. */
function played(
  scene: Scene,
  time: { start: number; firstWord: number },
  wordStart: (word: number) => number,
  { fps, shot }: Critique,
): Move[] {
  const { way, truth, playedSeconds, restSeconds, lagSeconds, onSeconds, steps } = scene;
  const inside = (frame: number): number => Math.max(shot.first, Math.min(frame, shot.last + 0.999));
  /** Plays up to the middle of a frame's time, and a while on. */
  const play = (moment: number, frame: number, on = 0): Move => {
    const seconds = Math.min(playedSeconds, (frame + 0.5 - shot.first) / fps);
    const more = Math.min(on, (shot.last + 0.999 - frame - 0.5) / fps);
    const [first, last] = [frame + 0.5 - seconds * fps, frame + 0.5 + more * fps];
    return {
      start: moment - seconds,
      end: moment + more,
      first: inside(first),
      last: inside(last),
      heard: true,
    };
  };
  const stopped = time.start - restSeconds;
  switch (way) {
    case 'stopped on it':
    case 'stopped on it a while ago':
      return [play(stopped, truth.first)];
    case 'stepped to it, told in words': {
      const from = Math.round(inside(truth.first - steps));
      truth.first = truth.last = Math.min(shot.last, Math.max(shot.first, from + steps));
      const on = Math.sign(truth.first - from);
      const jumps = Array.from({ length: Math.abs(truth.first - from) }, (_, i): Move => {
        const [moment, frame] = [time.start + 0.3 * (i + 1), from + on * i];
        return {
          start: moment,
          end: moment + 0.02,
          first: frame + 0.5,
          last: frame + on + 0.5,
          heard: false,
        };
      });
      return [play(stopped, from), ...jumps];
    }
    case 'dragged to it in silence': {
      const elsewhere = Math.round(
        inside(truth.first + (truth.first - shot.first > shot.last - truth.first ? -1 : 1) * fps),
      );
      const ends = { first: elsewhere + 0.5, last: truth.first + 0.5, heard: false };
      return [play(stopped - 1.2, elsewhere), { start: stopped - 0.9, end: stopped, ...ends }];
    }
    case 'a span that was played': {
      const move = play(stopped, truth.last);
      truth.first = Math.floor(move.first);
      return [move];
    }
    case 'a span that was dragged through': {
      truth.first = Math.round(inside(truth.last - 0.8 * fps));
      const ends = [truth.first + 0.5, truth.last + 0.5, truth.first + 0.5];
      return [-1.8, -0.9].map((from, i): Move => {
        const [begin, end] = [ends[i] ?? 0, ends[i + 1] ?? 0];
        return { start: stopped + from, end: stopped + from + 0.9, first: begin, last: end, heard: false };
      });
    }
    case '"there" while it plays':
      return [play(wordStart(time.firstWord + scene.pointingWord) - lagSeconds, truth.first, onSeconds)];
    case 'went by a moment ago':
      return [play(time.start - lagSeconds, truth.first, onSeconds)];
  }
}
