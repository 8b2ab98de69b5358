import type { Language } from '../language/language.ts';
import { readTalk } from '../language/talk.ts';
import type { Critique } from '../measure/critique.ts';
import { CUT, gapFeatures, JOIN } from '../statements/split.ts';
import type { Word } from '../transcript/transcript.ts';
import type { LabelledSequence } from './fit-chain.ts';

const STOP = /[.?!…]["')\]]*$/;
/** A breath inside a segment, where a script gives none: at stops and commas often, elsewhere seldom. */
const INNER_PAUSES = { stop: 0.7, comma: 0.5, word: 0.03 };

/**
 * The gaps of a critique as one labelled sequence, in one of the ways that a talk can reach us: `stopped` as written,
 * `bare` without capitals and stops, `untimed` without pauses. `random` gives numbers from 0 to 1.
 */
export function gapSequence(
  critique: Critique,
  style: 'stopped' | 'bare' | 'untimed',
  language: Language,
  random: () => number,
): LabelledSequence {
  const words: Word[] = [];
  const cuts = new Set<number>();
  let clock = 0;
  const written = critique.segments.some((segment) => STOP.test(segment.say));
  critique.segments.forEach((segment, i) => {
    const before = critique.segments[i - 1];
    const changes = before?.role !== segment.role || before?.note !== segment.note;
    const ends = before && (written ? STOP.test(before.say) : before.pause >= 0.5);
    if (i > 0 && (changes || ends)) cuts.add(words.length);
    const texts = segment.say.split(/\s+/).filter(Boolean);
    texts.forEach((text, k) => {
      const length = 0.12 + text.length * 0.045;
      words.push({
        text: style === 'bare' ? text.toLowerCase().replace(/[^\p{L}\p{N}\s]/gu, '') || '-' : text,
        start: clock,
        end: clock + length,
        confidence: 1,
      });
      clock += length;
      if (style === 'untimed' || k === texts.length - 1) return;
      const kind = STOP.test(text) ? 'stop' : /[,;:–-]$/.test(text) ? 'comma' : 'word';
      if (random() < INNER_PAUSES[kind]) clock += 0.05 + random() * (kind === 'stop' ? 0.5 : 0.3);
    });
    if (style !== 'untimed') clock += Math.max(0, segment.pause * (0.6 + random() * 0.6));
  });
  const talk = readTalk(words, language);
  const labels = talk.tokens
    .slice(1)
    .map((token, i) => (cuts.has(token.word) && talk.tokens[i]?.word !== token.word ? CUT : JOIN));
  return { items: gapFeatures(talk), labels };
}
