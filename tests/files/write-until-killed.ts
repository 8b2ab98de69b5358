import { placeFiles } from '../../src/files/place-files.ts';
import { readSheet } from '../../src/sheet/read-sheet.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../../src/sheet/writers/writers.ts';
import { savedSheet } from '../sheet/saved-sheet.ts';

/** Writes two large sheets in turn into the folder that is given, until somebody kills this process. */
const folder = process.argv[2];
if (!folder) throw new Error('which folder?');
const sheet = savedSheet();
const words = Array.from({ length: 200 }, () => sheet.words).flat();
for (let turn = 0; ; turn++) {
  await placeFiles({
    record: { ...sheet, words, shot: { ...sheet.shot, name: `turn ${turn % 2}` } },
    formats: ['json'],
    writers: SHEET_AND_TRANSCRIPT_WRITERS,
    folder,
    name: 'take3',
    reread: readSheet,
  });
  if (turn === 0) process.stdout.write('begun\n');
}
