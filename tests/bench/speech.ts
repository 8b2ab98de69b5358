/**
 * Measures speech recognition: `npm run bench:speech -- [--part NAME …] [--set WORD …] [--share 0.25] [--model ID …]`.
 *
 * Parts, all where none is named:
 * - `accuracy`: word errors and word times by set; a WORD chooses the sets of which a part of the name begins with it, and
 *   `--held` speaks the critiques nobody developed with;
 * - `joins`: words lost, doubled or changed where speech is cut, at random or with `--found` where regions are cut in speech
 *   without pauses; `--bare` shows what a bare cut does as well, `--seed` makes other random cuts;
 * - `invented`: words heard in an hour of noise, music and silence;
 * - `speed`: from file to transcript, each in a fresh process, for recordings of `--minutes`.
 *
 * The trade's words are listened for, as when a recording is read, but with `--plain`. A share measures every so many clips, cuts
 * and minutes only. Beside it: `speech/list-errors.ts` prints the wrong words.
 */
import { parseArgs } from 'node:util';
import { readListenedWords } from '../../src/language/listened-words.ts';
import { LISTEN_FOR_NOTHING, listenFor } from '../../src/transcript/glossary/listen-for.ts';
import { printAccuracy } from './speech/accuracy.ts';
import { printInvented } from './speech/invented.ts';
import { printJoins } from './speech/joins.ts';
import { speechSets } from './speech/sets.ts';
import { printSpeed } from './speech/speed.ts';

const PARTS = ['accuracy', 'joins', 'invented', 'speed'];

const { values } = parseArgs({
  options: {
    set: { type: 'string', multiple: true, default: [] },
    share: { type: 'string', default: '1' },
    model: { type: 'string', multiple: true, default: ['moonshine-base', 'moonshine-tiny'] },
    part: { type: 'string', multiple: true },
    minutes: { type: 'string', multiple: true, default: ['1', '5', '20', '60'] },
    plain: { type: 'boolean', default: false },
    bare: { type: 'boolean', default: false },
    found: { type: 'boolean', default: false },
    seed: { type: 'string', default: '7' },
    held: { type: 'boolean', default: false },
  },
});
const share = Number(values.share);
const parts = values.part ?? (values.set.length > 0 ? ['accuracy'] : PARTS);

const wanted = values.plain ? LISTEN_FOR_NOTHING : listenFor({ trade: readListenedWords() });

for (const model of values.model) {
  if (parts.includes('accuracy')) {
    await printAccuracy(await speechSets(values.set, share, values.held), model, wanted);
  }
  if (parts.includes('joins')) {
    const { bare: withBare, found } = values;
    const cuts = Math.round(200 * share);
    await printJoins(model, { cuts, seed: Number(values.seed), withBare, found, listenFor: wanted });
  }
  if (parts.includes('invented')) await printInvented(model, 60 * share, wanted);
  if (parts.includes('speed')) printSpeed(model, values.minutes.map(Number), values.plain);
}
