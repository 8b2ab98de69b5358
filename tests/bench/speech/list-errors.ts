/** Prints what was said and heard, clip by clip, wrong words only: `npx tsx tests/bench/speech/list-errors.ts SET [SHARE] [MODEL]`. */
import { readListenedWords } from '../../../src/language/listened-words.ts';
import { listenFor } from '../../../src/transcript/glossary/listen-for.ts';
import { scoredWords } from '../scored-words.ts';
import { lineUp } from '../word-error-rate.ts';
import { hearClips } from './accuracy.ts';
import { speechSets } from './sets.ts';

const [set = '', share = '1', model = 'moonshine-base'] = process.argv.slice(2);
const wanted = listenFor({ trade: readListenedWords() });
for (const { clips } of await speechSets([set], Number(share), false)) {
  for (const { clip, words } of await hearClips(clips, model, wanted)) {
    const truth = scoredWords(clip.text.split(/\s+/)).map((word) => word.text);
    const heard = scoredWords(words.map((word) => word.text)).map((word) => word.text);
    const line = lineUp(truth, heard).map((match) => {
      const left = match.truth === null ? '' : (truth[match.truth] ?? '');
      const right = match.heard === null ? '' : (heard[match.heard] ?? '');
      return left === right ? left : `[${left}>${right}]`;
    });
    console.log(`${clip.name}: ${line.join(' ')}\n`);
  }
}
