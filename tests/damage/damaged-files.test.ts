import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { PersonError } from '../../src/basics/problem.ts';
import { type Damage, damaged, damages } from './damage.ts';
import { KINDS } from './kinds.ts';

/** Another seed finds other cases: CRITSHEET_SEED=5 npx vitest run tests/damage */
const SEED = Number(process.env.CRITSHEET_SEED ?? 20);
/** For a longer search: CRITSHEET_DAMAGED=10 tries ten times as many. */
const TIMES = Number(process.env.CRITSHEET_DAMAGED ?? 1);
/** No file here takes a tenth of this where the machine is free. */
const LIMIT_SECONDS = 5;

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'critsheet-damaged-'));
  folders.push(folder);
  return folder;
}

/** What a reading came to: the record, or the one sentence that says why there is none. */
type Outcome = { readonly made: unknown } | { readonly said: string };

async function outcomeOf(read: () => unknown): Promise<Outcome> {
  const began = performance.now();
  try {
    return { made: await read() };
  } catch (error) {
    if (!(error instanceof PersonError)) throw error;
    return { said: error.message };
  } finally {
    expect((performance.now() - began) / 1000).toBeLessThan(LIMIT_SECONDS);
  }
}

/** One sentence, or two, on one line, that names the file. */
function expectClear(said: string, name: string): void {
  expect(said).toContain(name);
  expect(said).toMatch(/[.!]$/);
  expect(said).not.toMatch(/\p{Cc}|undefined|\[object|Error:/u);
  expect(said.length).toBeLessThan(500);
}

describe.each(KINDS)('$times files $name', ({ name, times, sources, words, headed = false, read }) => {
  it('are read, or refused in one clear sentence, within their limit, and nothing is written', async () => {
    const folder = newFolder();
    const path = join(folder, name);
    let refused = 0;
    let whole = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.nat({ max: sources.length - 1 }),
        damages(words, headed),
        async (source: number, done: Damage[]) => {
          const bytes = damaged(sources[source] ?? new Uint8Array(), done);
          writeFileSync(path, bytes);
          const outcome = await outcomeOf(() => read(path, bytes));
          if ('said' in outcome) {
            expectClear(outcome.said, name);
            refused++;
          } else whole++;
          expect(readdirSync(folder)).toEqual([name]);
          expect(readFileSync(path).equals(bytes)).toBe(true);
        },
      ),
      { numRuns: times * TIMES, seed: SEED },
    );
    // Neither so much damage that nothing gets past the first look, nor so little that nothing is ever refused.
    expect(whole).toBeGreaterThan(0);
    expect(refused).toBeGreaterThan(times / 40);
  });
});
