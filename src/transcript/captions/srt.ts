import { parseSync } from 'subtitle';
import type { CueList } from './cue.ts';

const MILLISECONDS = 1000;
const ENTITIES: Readonly<Record<string, string>> = {
  amp: '&',
  lt: '<',
  gt: '>',
  quot: '"',
  apos: "'",
  nbsp: ' ',
  lrm: '',
  rlm: '',
};

/** Reads SubRip. Tags, position marks (`{\an8}`) and entities are taken out. */
export function readSrt(text: string): CueList {
  const nodes = parseSync(text);
  return {
    cues: nodes.flatMap((node) =>
      node.type === 'cue'
        ? [
            {
              start: node.data.start / MILLISECONDS,
              end: node.data.end / MILLISECONDS,
              text: plainText(node.data.text),
            },
          ]
        : [],
    ),
    faults: [],
  };
}

function plainText(text: string): string {
  return text
    .replace(/<\/?[a-z][^>]*>/gi, '')
    .replace(/\{\\[^}]*\}/g, '')
    .replace(/&#(\d+);/g, (_, code: string) => String.fromCodePoint(Number(code)))
    .replace(/&([a-z]+);/gi, (whole, name: string) => ENTITIES[name.toLowerCase()] ?? whole);
}
