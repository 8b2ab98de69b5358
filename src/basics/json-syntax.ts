/** Where a text stops being JSON. Lines and columns count from 1, as editors do. */
export interface SyntaxFault {
  readonly line: number;
  readonly column: number;
  /** What stands there, and what was expected: 'there is "}" where a value was expected'. */
  readonly message: string;
}

const STRING = /"(?:[ !#-[\]-\uffff]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const SCALAR = /(?:-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?|true|false|null)(?![\w.])/y;
const SPACE = /[ \t\r\n]*/y;

/**
 * Finds the first place where a text is not JSON; null where all of it is.
 *
 * The messages of JSON.parse name a position for some faults and none for others, and change between versions of Node;
 * a person who mends a file by hand needs the line every time.
 */
export function findSyntaxFault(text: string): SyntaxFault | null {
  let at = 0;

  const take = (pattern: RegExp): boolean => {
    pattern.lastIndex = at;
    const found = pattern.exec(text);
    if (found) at = pattern.lastIndex;
    return found !== null;
  };
  const takeCharacter = (character: string): boolean => {
    take(SPACE);
    if (text[at] !== character) return false;
    at++;
    take(SPACE);
    return true;
  };
  const expect = (found: boolean, what: string): void => {
    if (!found) throw new Fault(what);
  };
  const list = (close: string, item: () => void): void => {
    if (takeCharacter(close)) return;
    do item();
    while (takeCharacter(','));
    expect(takeCharacter(close), `"," or "${close}"`);
  };
  const pair = (): void => {
    expect(take(STRING), 'a name in double quotes');
    expect(takeCharacter(':'), '":"');
    value();
  };
  const value = (): void => {
    take(SPACE);
    if (takeCharacter('{')) list('}', pair);
    else if (takeCharacter('[')) list(']', value);
    else expect(take(STRING) || take(SCALAR), 'a value');
    take(SPACE);
  };

  try {
    value();
    expect(at === text.length, 'the end of the file');
    return null;
  } catch (error) {
    if (!(error instanceof Fault)) throw error;
    return { ...placeOf(text, at), message: `${describe(text, at)} where ${error.message} was expected` };
  }
}

class Fault extends Error {}

function placeOf(text: string, at: number): { line: number; column: number } {
  const before = text.slice(0, at);
  return { line: before.split('\n').length, column: at - before.lastIndexOf('\n') };
}

function describe(text: string, at: number): string {
  const character = text[at];
  if (character === undefined) return 'the file ends';
  if (character === '"') return 'there is a text in quotes, or one that is not closed,';
  return `there is ${character === '\n' ? 'a line end' : `"${character}"`}`;
}
