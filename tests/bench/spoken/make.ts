/**
 * Makes the spoken set: `npx tsx tests/bench/spoken/make.ts [SEED] [--held]`. Later calls find it ready.
 *
 * Needs Debian's flite and espeak-ng; with festival, festvox-us-slt-hts and festvox-kdlpc16k there are two voices more.
 */
import { secondsOf, spokenSet } from './spoken-set.ts';

const given = process.argv.slice(2);
const talks = spokenSet({
  seed: Number(given.find((word) => /^\d+$/.test(word)) ?? 1),
  held: given.includes('--held'),
  onTalk: (done, of) => process.stderr.isTTY && process.stderr.write(`\r${done} of ${of}`),
});
const timed = talks.filter((talk) => talk.times);
const voices = new Set(talks.map((talk) => talk.voice));
const words = talks.reduce((sum, talk) => sum + talk.text.split(' ').length, 0);
console.log(
  `${talks.length} talks, ${voices.size} voices (${[...voices].join(', ')}), ${(secondsOf(talks) / 60).toFixed(1)} minutes, ${words} words; ${timed.length} talks with word times`,
);
