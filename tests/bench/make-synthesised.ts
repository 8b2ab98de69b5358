/**
 * Makes the synthesised clips of tests/fixtures/speech again: `npx tsx tests/bench/make-synthesised.ts`.
 *
 * Needs Debian's `flite` on the PATH. Flite prints the end time of every phone it spoke; which phones belong to which
 * word is found by speaking each word alone and lining up the two lists of phones.
 */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { phonesOf, wordOfPhone } from './spoken/word-phones.ts';

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

for (const { name, voice, text } of CLIPS) {
  const phones = phonesOf(flite(voice, '-psdur', '-t', text, '-o', join(FOLDER, `${name}.wav`)));
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
