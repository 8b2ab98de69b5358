import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/basics/canonical-json.ts';

describe('JSON for checksums', () => {
  it('is the same text for the same things, however they were put together', () => {
    const one = { b: [{ d: 1, c: null }], a: 'x', left: undefined };
    expect(canonicalJson(one)).toBe('{"a":"x","b":[{"c":null,"d":1}]}');
    expect(canonicalJson({ a: 'x', b: [{ c: null, d: 1 }] })).toBe(canonicalJson(one));
  });

  it('keeps the order of a list, which means something', () => {
    expect(canonicalJson([2, 1])).not.toBe(canonicalJson([1, 2]));
  });
});
