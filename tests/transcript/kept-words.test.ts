import { describe, expect, it } from 'vitest';
import { listenFor } from '../../src/transcript/glossary/listen-for.ts';
import { regionIngredients, transcriptIngredients } from '../../src/transcript/kept-words.ts';

const model = { ref: { id: 'moonshine-base', sha256: 'ab' }, content: 'cd' };
const stretch = { samples: new Float32Array(16), start: 0, last: false };
const plain = listenFor({ trade: ['knee'] });
const named = listenFor({ trade: ['knee'], own: ['Odalys'] });

describe('words that were kept', () => {
  it('are found again only where the same words were listened for', () => {
    expect(regionIngredients({ model, listenFor: plain }, stretch)).toEqual(
      regionIngredients({ model, listenFor: listenFor({ trade: ['knee'] }) }, stretch),
    );
    expect(regionIngredients({ model, listenFor: named }, stretch)).not.toEqual(
      regionIngredients({ model, listenFor: plain }, stretch),
    );
    expect(transcriptIngredients({ model, listenFor: named }, 'ef', 'gh')).not.toEqual(
      transcriptIngredients({ model }, 'ef', 'gh'),
    );
  });
});
