/**
 * Measures how well passes of a shot are found in generated recordings: `npm run bench:frames [-- FIRST_SEED COUNT [TALK_FOLDER [PART]]]`, where
 * the folder ('-' for none) holds recordings of people talking, and the part is one of recordings, speed, talk.
 *
 * Each recording has a seed of its own: a shot's sound (lines, footsteps, music, effects, mixtures), plays of it (whole, in part,
 * looped, a quarter at half speed), straight or through a loudspeaker, a room and a microphone, noise 5 to 35 dB below, a mentor's
 * voice over it from 10 dB below to 9 dB above, clocks that differ by up to 60 millionths. Everything is made here: no tool but Node.
 */
import { findPasses } from '../../src/recording/passes/find-passes.ts';
import { Chance } from './frames/chance.ts';
import type { TruePass } from './frames/mix.ts';
import { MANNERS } from './frames/plan.ts';
import { makeRecording } from './frames/recordings.ts';
import { frameAt, matchPasses, type Pair, percentile } from './frames/score.ts';
import { makeShot } from './frames/shots.ts';
import { calibrationTable, type Given, recallTable } from './frames/tables.ts';
import { makeTalk, talkOf } from './frames/talk.ts';

const FIRST_SEED = 9001;
const RECORDINGS = 40;
/** Talk is made from other seeds than the shot: with the same one its noise would be the shot's own, and rightly be found. */
const TALK_SEEDS = 100_000;
/** Passes with less are heard but not told from another place of the shot: neither found nor invented. */
const BELIEVED = 0.5;
/** Further below talk and noise than this a pass lies in the shot's own pauses, and nothing of it can be heard. */
const HEARD_DB = -15;

const [firstSeed = FIRST_SEED, count = RECORDINGS] = process.argv.slice(2, 4).map(Number);
const [talkFolder = '-', part] = process.argv.slice(4);

const share = (part: number, whole: number) => `${((100 * part) / Math.max(1, whole)).toFixed(1)} %`;
const spread = (errors: readonly number[]) =>
  [0.5, 0.9, 0.95, 0.99].map((at) => percentile(errors, at).toFixed(2)).join(' / ');

async function measureRecordings(): Promise<void> {
  const pairs: Pair[] = [];
  const made = new Map<string, number>();
  const missedPasses: TruePass[] = [];
  const given: Given[] = [];
  let invented = 0;
  let unsure = 0;
  let minutes = 0;
  let searchSeconds = 0;
  for (let seed = firstSeed; seed < firstSeed + count; seed++) {
    const recording = makeRecording(seed);
    const { samples, shot, fps, first, passes } = recording;
    const began = performance.now();
    const all = await findPasses(samples, shot.samples, { fps, first });
    searchSeconds += (performance.now() - began) / 1000;
    minutes += samples.length / 16000 / 60;
    const matched = matchPasses(
      passes,
      all.filter(({ confidence }) => confidence >= BELIEVED),
    );
    for (const { manner } of passes) made.set(manner, (made.get(manner) ?? 0) + 1);
    unsure += all.filter(({ confidence }) => confidence < BELIEVED).length;
    invented += matched.invented.length;
    missedPasses.push(...matched.missed);
    const anyhow = matchPasses(passes, all);
    given.push(...anyhow.pairs.map(({ found }) => ({ confidence: found.confidence, right: true })));
    given.push(...anyhow.invented.map(({ confidence }) => ({ confidence, right: false })));
    pairs.push(...matched.pairs);
    const missed = matched.missed.map(
      ({ start, end, manner, aboveDb }) =>
        `missed ${manner} ${start.toFixed(1)}-${end.toFixed(1)} (${aboveDb.toFixed(0)} dB above all else)`,
    );
    const wrong = matched.invented.map(({ start, end }) => `invented ${start.toFixed(1)}-${end.toFixed(1)}`);
    const says = [
      `${seed}: ${recording.says}`,
      `${matched.pairs.length} of ${passes.length}`,
      ...missed,
      ...wrong,
    ];
    console.log(says.join('; '));
  }
  const truths = [...made.values()].reduce((a, b) => a + b, 0);
  console.log(`\n${count} recordings, ${minutes.toFixed(0)} minutes, ${truths} passes`);
  console.log(
    `found (recall) ${share(pairs.length, truths)}, right (precision) ${share(pairs.length, pairs.length + invented)}, ` +
      `besides ${unsure} given as unsure`,
  );
  const foundHeard = pairs.filter(({ truth }) => truth.aboveDb >= HEARD_DB).length;
  const heard = foundHeard + missedPasses.filter(({ aboveDb }) => aboveDb >= HEARD_DB).length;
  console.log(
    `  of those no more than ${-HEARD_DB} dB below talk and noise: ${foundHeard} of ${heard}, ${share(foundHeard, heard)}`,
  );
  for (const manner of MANNERS) {
    const found = pairs.filter(({ truth }) => truth.manner === manner).length;
    console.log(`  ${manner}: ${found} of ${made.get(manner) ?? 0}`);
  }
  for (const line of recallTable(
    pairs.map(({ truth }) => truth),
    missedPasses,
  ))
    console.log(line);
  for (const line of calibrationTable(given)) console.log(line);
  printErrors(pairs);
  console.log(`searched in ${searchSeconds.toFixed(0)} s`);
}

function printErrors(pairs: readonly Pair[]): void {
  const ends = pairs.flatMap(({ truth, found }) => [
    { error: Math.abs(found.first - truth.first), bound: found.firstError, heard: truth.startHeard },
    { error: Math.abs(found.last - truth.last), bound: found.lastError, heard: truth.endHeard },
  ]);
  const along = pairs.flatMap(({ truth, found }) => {
    const [from, to] = [Math.max(truth.start, found.start), Math.min(truth.end, found.end)];
    return [0, 0.25, 0.5, 0.75, 1].map((at) => {
      const seconds = from + at * (to - from);
      return Math.abs(frameAt(truth, seconds) - frameAt(found, seconds));
    });
  });
  const heard = ends.filter((end) => end.heard);
  console.log('frame errors: median / 90th / 95th / 99th percentile');
  console.log(`  along the passes: ${spread(along)}`);
  console.log(
    `  ends where the shot is heard (${heard.length} of ${ends.length}): ${spread(heard.map(({ error }) => error))}`,
  );
  console.log(`  all ends: ${spread(ends.map(({ error }) => error))}`);
  console.log(
    `  ends within the error given: ${share(ends.filter(({ error, bound }) => error <= (bound ?? 0) + 0.05).length, ends.length)}`,
  );
}

async function measureSpeed(): Promise<void> {
  const shot = makeShot('mixed', new Chance(firstSeed), 10);
  const samples = makeTalk(TALK_SEEDS + firstSeed, 900, shot.clips);
  const began = performance.now();
  const cpu = process.cpuUsage();
  await findPasses(samples, shot.samples, { fps: 24, first: 1 });
  const seconds = (performance.now() - began) / 1000;
  const used = process.cpuUsage(cpu);
  console.log(
    `\n15 minutes searched for a shot of 10 s: ${seconds.toFixed(1)} s, processor ${((used.user + used.system) / 1e6).toFixed(1)} s`,
  );
}

/** With a folder of recordings of talk, theirs; else the clips of the tests. */
async function measureTalk(): Promise<void> {
  let falsePasses = 0;
  let unsure = 0;
  const kinds = ['mixed', 'dialogue', 'footsteps', 'music', 'effects', 'lines'] as const;
  for (const [i, kind] of kinds.entries()) {
    const chance = new Chance(firstSeed + i);
    const shot = makeShot(kind, chance, kind === 'lines' ? 7 : 10);
    const talk =
      talkFolder !== '-'
        ? await talkOf(talkFolder, TALK_SEEDS + firstSeed + i, 600)
        : makeTalk(TALK_SEEDS + firstSeed + i, 600, shot.clips);
    const found = await findPasses(talk, shot.samples, { fps: 24, first: 1 });
    const believed = found.filter(({ confidence }) => confidence >= BELIEVED);
    falsePasses += believed.length;
    unsure += found.length - believed.length;
    for (const { start, end, confidence } of believed)
      console.log(`  false: ${kind} ${start.toFixed(1)}-${end.toFixed(1)}, ${confidence.toFixed(2)}`);
  }
  console.log(
    `an hour of talk without the shot (${kinds.length} shots, 10 minutes each): ${falsePasses} false passes, ${unsure} unsure`,
  );
}

if (!part || part === 'recordings') await measureRecordings();
if (!part || part === 'speed') await measureSpeed();
if (!part || part === 'talk') await measureTalk();
