import { describe, expect, it } from 'vitest';
import { atOnceByDefault } from '../../src/batch/pool.ts';

describe('how many recordings are read at once, where nobody says', () => {
  it.each([
    ['one for each core, where there is memory', 8, 64e9, 8],
    ['fewer, where half of the memory does not hold so many', 8, 4.2e9, 3],
    ['one at least, however small the machine', 4, 0.5e9, 1],
  ])('is %s', (_, cores, memoryBytes, wanted) => expect(atOnceByDefault(cores, memoryBytes)).toBe(wanted));
});
