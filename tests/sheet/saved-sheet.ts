import { readFileSync } from 'node:fs';
import { readSheet } from '../../src/sheet/read-sheet.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';

const FILE = new URL('../records/critsheet-1.sheet.json', import.meta.url);

/** The text of the saved sheet that every later version must read. */
export function savedSheetText(): string {
  return readFileSync(FILE, 'utf8');
}

/** The saved sheet, a new object each time. */
export function savedSheet(): Sheet {
  return readSheet(savedSheetText(), 'critsheet-1.sheet.json');
}
