import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readCounter } from '../../src/recording/counter/read-counter.ts';
import { scoreCounter } from '../recording/counter/score-counter.ts';
import { makeFilm, reasonForNoFilm } from '../recording/screen/film.ts';
import { framesShown, type RecordedShot, screenPictures } from '../recording/screen/recorded-shot.ts';
import { counterCases } from './counter-cases.ts';

/**
 * Prints how right frame counters are read from generated screen recordings whose every picture's frame is known.
 * Arguments: how many recordings (40), seconds each (20), the first one (1).
 */
const [count = 40, seconds = 20, from = 1] = process.argv.slice(2).map(Number);

const reason = await reasonForNoFilm();
if (reason) {
  console.error(reason);
  process.exit(1);
}
const lengthOf = (recorded: RecordedShot) => framesShown(recorded).length / recorded.rate;
const folder = mkdtempSync(join(tmpdir(), 'critsheet-counter-'));
const sum = {
  pictures: 0,
  read: 0,
  right: 0,
  near: 0,
  covered: 0,
  recorded: 0,
  took: 0,
  sure: 0,
  weighed: 0,
  found: 0,
};
try {
  for (const { name, recorded, crf, ending } of counterCases(count, seconds).slice(from - 1)) {
    const path = join(folder, `${name}.${ending}`);
    await makeFilm(path, screenPictures(recorded), {
      ...recorded,
      crf,
      tone: { startSeconds: 0, seconds: lengthOf(recorded) },
    });
    const started = performance.now();
    const reading = await readCounter(path, { shot: recorded.shot });
    const took = (performance.now() - started) / 1000;
    const { passes, region, problems } = reading;
    const score = scoreCounter(framesShown(recorded), reading);
    const look = recorded.counter;
    const percent = (of: number) => `${((100 * of) / score.pictures).toFixed(1).padStart(5)} %`;
    console.log(
      `${name.padStart(3)} ${percent(score.read)} read right; by the passes ${percent(score.right)} right, ` +
        `${percent(score.near)} within a frame, ${passes.length} passes, ${took.toFixed(1)} s; ` +
        `${recorded.width}x${recorded.height} at ${recorded.rate}${recorded.variable ? ' variable' : ''}, crf ${crf}; ` +
        `${look?.font} ${look?.pixels} px Y${look?.colour[0]} ${look?.box ? `on Y${look.box.colour[0]} ${look.box.opacity}` : 'no box'}, ` +
        `${look?.shows} of ${recorded.shot.first} at ${recorded.shot.fps} at ${look?.x},${look?.y}` +
        `${region ? `; found ${region.x},${region.y},${region.width},${region.height}` : `: ${problems[0]?.message}`}`,
    );
    rmSync(path);
    sum.pictures += score.pictures;
    sum.read += score.read;
    sum.right += score.right;
    sum.near += score.near;
    sum.covered += score.covered;
    sum.sure += score.confidence;
    sum.recorded += lengthOf(recorded);
    sum.took += took;
    if (region) sum.found++;
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
const part = (of: number) => `${((100 * of) / sum.pictures).toFixed(2)} %`;
console.log(
  `${sum.pictures} pictures: ${part(sum.read)} read right; by the passes ${part(sum.right)} right, ${part(sum.near)} within a frame, ${part(sum.covered)} in a pass; ` +
    `counters found ${sum.found} of ${count - from + 1}; mean confidence ${part(sum.sure)}; ` +
    `${sum.recorded.toFixed(0)} s of recording read in ${sum.took.toFixed(0)} s`,
);
