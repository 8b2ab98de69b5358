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
    if (text[at] !== character) return false;
    at++;
    return true;
  };
  const fault = (expected: string): SyntaxFault => ({
    ...placeOf(text, at),
    message: `${describe(text, at)} where ${expected} was expected`,
  });

  /** What closes each list and object that is open; kept here and not in calls, since a damaged file may nest without end. */
  const open: ('}' | ']')[] = [];
  let wanted: Wanted = 'value';
  for (;;) {
    take(SPACE);
    const close = open.at(-1);
    if (wanted === 'first' && close && takeCharacter(close)) {
      open.pop();
      wanted = 'next';
    } else if (wanted === 'next') {
      if (!close) return at === text.length ? null : fault('the end of the file');
      if (takeCharacter(',')) wanted = close === '}' ? 'name' : 'value';
      else if (takeCharacter(close)) open.pop();
      else return fault(`"," or "${close}"`);
    } else if (wanted === 'name' || (wanted === 'first' && close === '}')) {
      if (!take(STRING)) return fault('a name in double quotes');
      take(SPACE);
      if (!takeCharacter(':')) return fault('":"');
      wanted = 'value';
    } else if (takeCharacter('{') || takeCharacter('[')) {
      open.push(text[at - 1] === '{' ? '}' : ']');
      wanted = 'first';
    } else if (take(STRING) || take(SCALAR)) wanted = 'next';
    else return fault('a value');
  }
}

/** What may stand at a place: what opens a list or object, or closes it at once; a name; a value; what follows one. */
type Wanted = 'first' | 'name' | 'value' | 'next';

function placeOf(text: string, at: number): { line: number; column: number } {
  const before = text.slice(0, at);
  return { line: before.split('\n').length, column: at - before.lastIndexOf('\n') };
}

function describe(text: string, at: number): string {
  const character = text[at];
  if (character === undefined) return 'the file ends';
  if (character === '"') return 'there is a text in quotes, or one that is not closed,';
  if (character === '\n') return 'there is a line end';
  if (/[\p{C}\p{Z}]/u.test(character)) {
    return `there is the character U+${character.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}`;
  }
  return `there is "${character}"`;
}
