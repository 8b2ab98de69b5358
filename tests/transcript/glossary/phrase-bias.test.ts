import { describe, expect, it } from 'vitest';
import { beamSearch, type Stepper } from '../../../src/transcript/engines/beam-search.ts';
import { NO_BIAS, phraseBias } from '../../../src/transcript/glossary/phrase-bias.ts';
import { buildTrie, LEAST_LIKELY } from '../../../src/transcript/glossary/phrase-trie.ts';
import { tokenKinds, weighPhrases } from '../../../src/transcript/glossary/weigh-phrases.ts';

const PIECES = ['<s>', '</s>', '▁eye', '▁line', 'liner', '▁the', '.', '▁gold', '▁gull'];
const at = (piece: string) => PIECES.indexOf(piece);
const tokens = (...pieces: string[]) => pieces.map(at);
const kinds = tokenKinds(PIECES);
const bias = phraseBias(
  buildTrie([
    { tokens: tokens('▁eye', '▁line'), weight: 4, least: LEAST_LIKELY },
    { tokens: tokens('▁gull'), weight: 3, least: LEAST_LIKELY },
  ]),
  kinds,
);
const LIKELY = -0.1;
const worth = (...pieces: string[]) => worthWhere(LIKELY, ...pieces);
const worthWhere = (logProbability: number, ...pieces: string[]) =>
  bias.score(pieces.reduce((state, piece) => bias.after(state, at(piece), logProbability), bias.start));

/** A decoder that says the same whatever was written: for each step the likelihood of each piece. */
function saying(...steps: Record<string, number>[]): Stepper & { rows: number } {
  let step = 0;
  return {
    rows: 0,
    async step(texts) {
      this.rows += texts.length;
      const chances = steps[step++] ?? { '</s>': 1 };
      const logits = PIECES.map((piece) => Math.log(chances[piece] ?? 1e-9));
      return texts.map(() => ({ logits: Float32Array.from(logits), attention: [] }));
    },
  };
}

const OPTIONS = {
  width: 4,
  reach: 0.4,
  leastWanted: -3.5,
  behind: 2.5,
  startToken: 0,
  endToken: 1,
  leastTokens: 0,
  maxTokens: 9,
};
const written = async (stepper: Stepper, lean: typeof bias | typeof NO_BIAS, options = {}) => {
  const found = await beamSearch(stepper, lean as typeof bias, { ...OPTIONS, ...options });
  return found.tokens.map(({ token }) => PIECES[token]).join('');
};

describe('the pull toward a phrase', () => {
  it('grows while the phrase is written, and stays when its last word ends', () => {
    expect(worth('▁the')).toBe(0);
    expect(worth('▁eye')).toBe(2);
    expect(worth('▁eye', '▁line')).toBe(4);
    expect(worth('▁eye', '▁line', '▁the', '▁the')).toBe(4);
    expect(worth('▁eye', '▁line', '.', '▁the', '▁gull', '</s>')).toBe(7);
  });

  it('is taken back when the phrase breaks off, or its last word goes on', () => {
    expect(worth('▁eye', '▁the')).toBe(0);
    expect(worth('▁eye', '▁line', 'liner')).toBe(0);
    expect(worth('▁gull', 'liner', '▁the')).toBe(0);
  });

  it('is none where the recogniser itself finds the word unlikely', () => {
    expect(worthWhere(-3, '▁gull', '▁the')).toBe(3);
    expect(worthWhere(-4.5, '▁gull', '▁the')).toBe(0);
  });

  it('is earned twice at most by going round in circles', () => {
    const round = Array.from({ length: 6 }, () => ['▁gull', '▁the']).flat();
    expect(worth(...round)).toBe(6);
  });

  it('is none inside another word', () => {
    expect(worth('liner')).toBe(0);
  });
});

describe('the search', () => {
  const doubtful = () => saying({ '▁gold': 0.7, '▁gull': 0.2 }, { '</s>': 1 });

  it('writes what is likeliest where nothing is listened for', async () => {
    expect(await written(doubtful(), NO_BIAS)).toBe('▁gold</s>');
  });

  it('writes a word that is listened for where it is nearly as likely', async () => {
    expect(await written(doubtful(), bias)).toBe('▁gull</s>');
  });

  it('does not write it where the sound says otherwise', async () => {
    expect(await written(saying({ '▁gold': 0.9, '▁gull': 0.001 }), bias)).toBe('▁gold</s>');
  });

  it('goes back on a phrase that does not come about', async () => {
    const stepper = saying({ '▁the': 0.6, '▁eye': 0.3 }, { '▁gold': 0.9, '▁line': 1e-6 });
    expect(await written(stepper, bias)).toBe('▁the▁gold</s>');
  });

  it('writes one text at a time where nothing is in doubt', async () => {
    const stepper = saying({ '▁the': 0.99 }, { '▁gold': 0.99 });
    await written(stepper, bias);
    expect(stepper.rows).toBe(3);
  });

  it('does not give up at once where it must write something', async () => {
    const mute = () => saying({ '</s>': 0.6, '▁gold': 0.3 });
    expect(await written(mute(), NO_BIAS)).toBe('</s>');
    expect(await written(mute(), NO_BIAS, { leastTokens: 1 })).toBe('▁gold</s>');
  });

  it('says when it was stopped', async () => {
    const endless = Array.from({ length: 9 }, () => ({ '▁the': 0.9 }));
    const found = await beamSearch(saying(...endless), NO_BIAS, OPTIONS);
    expect(found.finished).toBe(false);
    expect(found.tokens).toHaveLength(9);
  });
});

describe('weights', () => {
  const vocabulary = {
    pieces: PIECES,
    encode: (text: string) =>
      text.toLowerCase() === 'common' ? [900] : text.length > 4 ? [20_000, 5] : [20_000],
  };
  const weight = (text: string, source: 'trade' | 'line' | 'own' = 'trade') =>
    weighPhrases({ phrases: [{ text, source }] }, vocabulary)[0]?.weight ?? 0;

  it('ask less likelihood of what a person asked for by hand', () => {
    const least = (source: 'trade' | 'own') =>
      weighPhrases({ phrases: [{ text: 'pose', source }] }, vocabulary)[0]?.least ?? 0;
    expect(least('own')).toBeLessThan(least('trade'));
  });

  it('are nothing for words that everybody says', () => {
    expect(weight('common')).toBe(0);
    expect(weight('common', 'own')).toBe(0);
  });

  it('are greater for rare words, and for those asked for by hand', () => {
    expect(weight('silhouette')).toBeGreaterThan(weight('pose'));
    expect(weight('pose', 'own')).toBeGreaterThan(weight('pose'));
    expect(weight('pose', 'line')).toBeLessThan(weight('pose'));
  });
});
