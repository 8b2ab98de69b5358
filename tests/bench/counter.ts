import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type CounterReading, readCounter } from '../../src/recording/counter/read-counter.ts';
import { type CounterScore, scoreCounter } from '../recording/counter/score-counter.ts';
import { makeFilm, reasonForNoFilm } from '../recording/screen/film.ts';
import { framesShown, screenPictures } from '../recording/screen/recorded-shot.ts';
import { type CounterCase, counterCases, isAmbiguous } from './counter-cases.ts';

/**
 * Prints how right frame counters are read from generated screen recordings, each picture's frame being known: fonts,
 * sizes, colours, boxes and places of counters, standing, playing, dragging and stepping, compressed more and less.
 * Arguments: how many recordings (40), seconds each (12), the first one (1).
 */
const [count = 40, seconds = 12, from = 1] = process.argv.slice(2).map(Number);

const reason = await reasonForNoFilm();
if (reason) {
  console.error(reason);
  process.exit(1);
}

/** Sums over recordings. */
class Sum {
  recordings = 0;
  found = 0;
  seconds = 0;
  took = 0;
  pictures = 0;
  read = 0;
  right = 0;
  near = 0;
  confidence = 0;

  add(score: CounterScore, found: boolean, recordingSeconds: number, took: number): void {
    this.recordings++;
    if (found) this.found++;
    this.seconds += recordingSeconds;
    this.took += took;
    this.pictures += score.pictures;
    this.read += score.read;
    this.right += score.right;
    this.near += score.near;
    this.confidence += score.confidence;
  }

  line(name: string): string {
    const part = (of: number) => `${((100 * of) / Math.max(1, this.pictures)).toFixed(2)} %`;
    return (
      `${name}: found in ${this.found} of ${this.recordings}; of ${this.pictures} pictures ${part(this.read)} read right; ` +
      `by the passes ${part(this.right)} to the frame, ${part(this.near)} within one, mean confidence ${part(this.confidence)}; ` +
      `${this.seconds.toFixed(0)} s of recording in ${this.took.toFixed(0)} s`
    );
  }
}

function describe(
  { name, recorded, crf, legible }: CounterCase,
  reading: CounterReading,
  score: CounterScore,
): string {
  const { counter: look, shot } = recorded;
  const percent = (of: number) => `${((100 * of) / score.pictures).toFixed(1).padStart(5)} %`;
  const box = look?.box ? `on Y${look.box.colour[0]} ${look.box.opacity}` : 'without a box';
  return (
    `${name.padStart(3)}${legible ? ' ' : '-'} ${percent(score.read)} read right; by the passes ${percent(score.right)}, ` +
    `${percent(score.near)} within a frame, ${reading.passes.length} passes; ` +
    `${recorded.width}x${recorded.height} at ${recorded.rate}${recorded.variable ? ' variable' : ''}, crf ${crf}; ` +
    `${look?.font} ${look?.pixels} px Y${look?.colour[0]} ${box}, ${look?.shows} of ${shot.first} to ${shot.last} at ${shot.fps}` +
    `${reading.region ? '' : `: ${reading.problems[0]?.message}`}`
  );
}

const folder = mkdtempSync(join(tmpdir(), 'critsheet-counter-'));
const legible = new Sum();
const ambiguous = new Sum();
const others = new Sum();
try {
  for (const counterCase of counterCases(count, seconds).slice(from - 1)) {
    const { recorded, name, crf, ending } = counterCase;
    const truth = framesShown(recorded);
    const long = truth.length / recorded.rate;
    const path = join(folder, `${name}.${ending}`);
    await makeFilm(path, screenPictures(recorded), {
      ...recorded,
      crf,
      tone: { startSeconds: 0, seconds: long },
    });
    const started = performance.now();
    const reading = await readCounter(path, { shot: recorded.shot });
    const took = (performance.now() - started) / 1000;
    rmSync(path);
    const score = scoreCounter(truth, reading);
    const sum = !counterCase.legible ? others : isAmbiguous(counterCase) ? ambiguous : legible;
    sum.add(score, reading.region !== null, long, took);
    console.log(describe(counterCase, reading, score));
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
console.log(legible.line('legible (10 pixels high or more, 50 levels of brightness from their ground)'));
console.log(ambiguous.line('legible, but from 0 or from 1 cannot be told: the base is a guess'));
console.log(others.line('others, marked -'));
