import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { sheetJsonSchema } from '../sheet/json-schema.ts';

/** Writes the JSON Schema of the sheet into the folder of compiled files, where package.json exports it from. */
export function writeSheetSchema(built: string): void {
  writeFileSync(join(built, 'sheet.schema.json'), `${JSON.stringify(sheetJsonSchema(), null, 2)}\n`);
}
