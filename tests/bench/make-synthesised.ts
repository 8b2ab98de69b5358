/**
 * Makes the synthesised clips of tests/fixtures/speech again: `npx tsx tests/bench/make-synthesised.ts`.
 *
 * Needs Debian's `flite` on the PATH. Flite prints the end time of every phone it spoke; which phones belong to which
 * word is found by speaking each word alone and lining up the two lists of phones.
 */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';

interface Phone {
  readonly name: string;
  readonly start: number;
  readonly end: number;
}

const FOLDER = join(import.meta.dirname, '..', 'fixtures', 'speech');

const CLIPS: readonly { name: string; voice: string; text: string }[] = [
  { name: 'synth-knee', voice: 'slt', text: 'The left knee pops between frame forty two and forty four.' },
  {
    name: 'synth-toes',
    voice: 'slt',
    text: 'Ease it in over three or four frames, and keep the toes planted until the hips have moved.',
  },
  {
    name: 'synth-turn',
    voice: 'slt',
    text: 'I love the turn of her head, so do not touch it, but the hold after that goes dead.',
  },
  {
    name: 'synth-bucket',
    voice: 'rms',
    text: 'Her eyes are looking past the bucket, so bring them down a little before she reaches for it.',
  },
  {
    name: 'synth-lift',
    voice: 'rms',
    text: 'There is no weight in the lift. Bend the knees first, and let the shoulders drag behind.',
  },
  {
    name: 'synth-tail',
    voice: 'rms',
    text: 'At frame one hundred and ten, the tail goes in a straight line. Give it an arc.',
  },
];

function flite(voice: string, ...rest: string[]): string {
  return execFileSync('flite', ['-voice', voice, ...rest], { encoding: 'utf8' });
}

function timedPhones(printed: string): Phone[] {
  let start = 0;
  return printed
    .trim()
    .split(/\s+/)
    .flatMap((item) => {
      const [name = '', time = '0'] = item.split(':');
      const phone = { name, start, end: Number(time) };
      start = phone.end;
      return name === 'pau' ? [] : [phone];
    });
}

/** The word of each phone, by the cheapest line-up of what was said with the words said alone (Levenshtein's table). */
function wordOfPhone(said: readonly string[], alone: readonly { name: string; word: number }[]): number[] {
  const cost = Array.from({ length: said.length + 1 }, (_, i) =>
    Array.from({ length: alone.length + 1 }, (_, j) => (i === 0 ? j : j === 0 ? i : 0)),
  );
  const at = (i: number, j: number): number => cost[i]?.[j] ?? Number.POSITIVE_INFINITY;
  const change = (i: number, j: number): number =>
    at(i - 1, j - 1) + (said[i - 1] === alone[j - 1]?.name ? 0 : 1);
  for (let i = 1; i <= said.length; i++) {
    for (let j = 1; j <= alone.length; j++) {
      const row = cost[i];
      if (row) row[j] = Math.min(change(i, j), at(i - 1, j) + 1, at(i, j - 1) + 1);
    }
  }
  const words: number[] = [];
  let [i, j] = [said.length, alone.length];
  while (i > 0) {
    if (j > 0 && at(i, j) === change(i, j)) {
      words[--i] = alone[--j]?.word ?? 0;
    } else if (j > 0 && at(i, j) === at(i, j - 1) + 1) j--;
    else words[--i] = alone[Math.max(j - 1, 0)]?.word ?? 0;
  }
  return words;
}

for (const { name, voice, text } of CLIPS) {
  const phones = timedPhones(flite(voice, '-psdur', '-t', text, '-o', join(FOLDER, `${name}.wav`)));
  const spoken = text.replace(/[.,]/g, '').split(' ');
  const alone = spoken.flatMap((word, index) =>
    flite(voice, '-ps', '-t', word, 'none')
      .trim()
      .split(/\s+/)
      .filter((phone) => phone !== 'pau')
      .map((phone) => ({ name: phone, word: index })),
  );
  const owner = wordOfPhone(
    phones.map((phone) => phone.name),
    alone,
  );
  const words = spoken.map((word, index) => {
    const own = phones.filter((_, i) => owner[i] === index);
    return { word, start: own[0]?.start, end: own.at(-1)?.end };
  });
  writeFileSync(join(FOLDER, `${name}.json`), `${JSON.stringify(words, null, 1)}\n`);
  writeFileSync(join(FOLDER, `${name}.txt`), `${text}\n`);
}
