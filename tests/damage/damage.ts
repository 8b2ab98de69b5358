import fc from 'fast-check';

/** One thing that happens to a file. Places are parts of its length, 0 to 1, so that a case shrinks without moving. */
export type Damage =
  | { readonly does: 'put' | 'insert'; readonly at: number; readonly bytes: Uint8Array }
  | { readonly does: 'remove' | 'repeat'; readonly at: number; readonly length: number }
  /** The word, number or mark at a place becomes another: what is still well formed, but means something else. */
  | { readonly does: 'word'; readonly at: number; readonly word: string }
  | { readonly does: 'end'; readonly at: number };

/** Sizes and counts at which programs go wrong: none, one, signs and the ends of their ranges. */
const NUMBERS = [0, 1, 2, 7, 0x7f, 0xff, 0x7fff, 0xffff, 0x7fffffff, 0x80000000, 0xfffffffe, 0xffffffff];

/** Without the bias to small numbers, by which nearly all damage would be to the first byte. */
const parts = (most: number) => fc.noBias(fc.nat({ max: 99_999 })).map((part) => (most * part) / 100_000);
/** Most damage is done to the head of a file, where it says what it is. */
const place = fc.oneof({ weight: 3, arbitrary: parts(0.05) }, { weight: 2, arbitrary: parts(1) });

const numberBytes = fc.constantFrom(...NUMBERS).map((number) => {
  const bytes = new Uint8Array(4);
  new DataView(bytes.buffer).setUint32(0, number, true);
  return bytes;
});

/** What a format's own readers look for. */
export interface Vocabulary {
  /** Marks and bytes that are put in anywhere. */
  readonly marks: readonly string[];
  /** What may stand where another word or number of the file stood, so that the file stays well formed. */
  readonly values: readonly string[];
}

/**
 * Damage to a file: bytes changed, put in, left out, said twice, words exchanged, and the file cut short.
 *
 * @param headed Whether the damage is mostly to the head; otherwise most of it is to whole words.
 */
export function damages({ marks, values }: Vocabulary, headed: boolean): fc.Arbitrary<Damage[]> {
  const at = headed ? place : parts(1);
  const bytes = fc.oneof(
    fc.uint8Array({ minLength: 1, maxLength: 8 }),
    numberBytes,
    fc.constantFrom(...marks).map((word) => new TextEncoder().encode(word)),
  );
  const length = fc.integer({ min: 1, max: 200 });
  const word = fc.constantFrom(...values);
  const kinds = {
    bytes: fc.record({ does: fc.constantFrom('put' as const, 'insert' as const), at, bytes }),
    length: fc.record({ does: fc.constantFrom('remove' as const, 'repeat' as const), at, length }),
    word: fc.record({ does: fc.constant('word' as const), at, word }),
    end: fc.record({ does: fc.constant('end' as const), at: parts(1) }),
  };
  return fc.array(
    fc.oneof(
      { weight: 6, arbitrary: kinds.bytes },
      { weight: 3, arbitrary: kinds.length },
      { weight: headed ? 1 : 20, arbitrary: kinds.word },
      { weight: 1, arbitrary: kinds.end },
    ),
    { minLength: 1, maxLength: 4 },
  );
}

/** The file with all of it done, in turn. */
export function damaged(file: Uint8Array, damages: readonly Damage[]): Uint8Array {
  return damages.reduce(withDamage, file);
}

function withDamage(whole: Uint8Array, damage: Damage): Uint8Array {
  const at = Math.floor(damage.at * whole.length);
  const [before, after] = [whole.subarray(0, at), whole.subarray(at)];
  switch (damage.does) {
    case 'put':
      return Buffer.concat([before, damage.bytes, after.subarray(damage.bytes.length)]);
    case 'insert':
      return Buffer.concat([before, damage.bytes, after]);
    case 'remove':
      return Buffer.concat([before, after.subarray(damage.length)]);
    case 'repeat':
      return Buffer.concat([before, after.subarray(0, damage.length), after]);
    case 'word':
      return withWord(whole, damage.at, damage.word);
    case 'end':
      return before;
  }
}

/** Words, numbers, texts in quotes, times; each is replaced whole. */
const WORDS = /"(?:[^"\\\n]|\\.)*"|-?\d+(?:[.:,]\d+)*|[\p{L}\p{M}]+|-->/gu;

function withWord(file: Uint8Array, at: number, word: string): Uint8Array {
  const text = Buffer.from(file).toString('utf8');
  const found = [...text.matchAll(WORDS)];
  const one = found[Math.floor(at * found.length)];
  if (!one) return file;
  return Buffer.from(text.slice(0, one.index) + word + text.slice(one.index + one[0].length));
}
