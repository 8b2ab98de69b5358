import { describe, expect, it } from 'vitest';
import { findSyntaxFault } from '../../src/basics/json-syntax.ts';

const SOUND = [
  '{}',
  ' [ ] ',
  '{"a": [1, -0.5e+3, true, null, "x\\n\\u00e9\\""], "b": {}}',
  '"only a text"',
  '0',
  '[[[1]]]\n',
];
const UNSOUND: [string, number, number][] = [
  ['', 1, 1],
  ['{a: 1}', 1, 2],
  ['{"a": abc}', 1, 7],
  ['{"a": 1', 1, 8],
  ['{"a": 1,\n}', 2, 1],
  ['[1, 2,]', 1, 7],
  ['{"fps": 01}', 1, 9],
  ['{"fps": 24.}', 1, 9],
  ['{} x', 1, 4],
  ['{"name": "abc\n"}', 1, 10],
  ["{\n 'name': 1}", 2, 2],
  ['{"a" 1}', 1, 6],
  ['[1 2]', 1, 4],
  ['{"a": "\\x"}', 1, 7],
  ['// what\n{}', 1, 1],
];

describe('where a text stops being JSON', () => {
  it.each(SOUND)('agrees with JSON.parse that this is JSON: %s', (text) => {
    expect(() => JSON.parse(text)).not.toThrow();
    expect(findSyntaxFault(text)).toBeNull();
  });

  it.each(UNSOUND)('agrees that this is not, and names the place: %s', (text, line, column) => {
    expect(() => JSON.parse(text)).toThrow();
    expect(findSyntaxFault(text)).toMatchObject({ line, column });
  });

  it('finds the fault however deep it lies', () => {
    expect(findSyntaxFault('[{"a":'.repeat(100_000))).toMatchObject({ line: 1, column: 600_001 });
  });

  it('names a character that cannot be seen', () => {
    expect(findSyntaxFault('{\u0000}')?.message).toBe(
      'there is the character U+0000 where a name in double quotes was expected',
    );
  });

  it('agrees with JSON.parse on every cut and every single change of a record', () => {
    const record = '{"name":"a b","fps":24.5,"last":null,"list":[{"x":-1e3},true,"\\u0041"]}';
    for (let i = 0; i < record.length; i++) {
      for (const text of [
        record.slice(0, i),
        ...'",:{}[]0x\n\\'.split('').map((c) => record.slice(0, i) + c + record.slice(i + 1)),
      ]) {
        expect(findSyntaxFault(text) === null, text).toBe(isJson(text));
      }
    }
  });
});

function isJson(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
