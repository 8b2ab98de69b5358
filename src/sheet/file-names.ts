import { basename } from 'node:path';

/** A recording's name without folder and ending, which the names of all files made from it begin with. */
export function recordingName(path: string): string {
  return basename(path).replace(/\.transcript\.json$|(?<=.)\.[^.]*$/i, '');
}

/** A written file's name. The first has no number; "take3.sheet.md" with number 2 is "take3.sheet.2.md". */
export function writtenName(name: string, ending: string, number: number): string {
  if (number === 1) return `${name}${ending}`;
  return `${name}${ending.replace(/\.[^.]*$/, (last) => `.${number}${last}`)}`;
}

/** The name and number that a sheet's file was written with: "take3.sheet.2.json" is "take3" and 2. */
export function sheetName(path: string): { name: string; number: number } {
  const found = /^(.+?)\.sheet(?:\.(\d+))?\.json$/i.exec(basename(path));
  if (!found?.[1]) return { name: recordingName(path), number: 1 };
  return { name: found[1], number: Number(found[2] ?? 1) };
}
