import { writeFile } from 'node:fs/promises';
import { openCache } from '../../src/cache/open-cache.ts';
import { readCritique } from '../../src/pipeline.ts';
import { SHEET_WRITERS } from '../../src/sheet/writers/writers.ts';
import { noted } from './noted-cache.ts';

/** Reads a recording with the cache of CRITSHEET_CACHE and says what it asks of it, a line each. */
const [recording = '', sheetFile = '', model = ''] = process.argv.slice(2);
const { kept } = noted(openCache(), (what, name) => process.stdout.write(`${what} ${name}\n`));
const { sheet } = await readCritique(recording, { kept, model });
await writeFile(sheetFile, SHEET_WRITERS.json?.write(sheet) ?? '');
