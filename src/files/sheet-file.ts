import { basename } from 'node:path';
import { readSheet } from '../sheet/read-sheet.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { readText } from './read-text.ts';

/** A sheet from its file. @throws PersonError that names the file and says what to do. */
export async function loadSheet(path: string): Promise<Sheet> {
  return readSheet(await readText(path), basename(path));
}
