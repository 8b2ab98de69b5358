import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { PersonError } from '../basics/problem.ts';
import { readSheet } from '../sheet/read-sheet.ts';
import { critiqueOf, type Labelled } from './from-sheet.ts';

/** A sheet's file name without what all sheets' names end with. */
const SHEET_FILE = /\.sheet(?:\.\d+)?\.json$/i;

/**
 * The corrected sheets of a folder as labelled critiques, in the order of names; sheets that nobody corrected are left out.
 *
 * @throws PersonError where the folder is not there, holds none, or holds a damaged sheet.
 */
export function readCorrectedSheets(folder: string): (Labelled & { readonly file: string })[] {
  const found = statSync(folder, { throwIfNoEntry: false });
  if (!found?.isDirectory())
    throw new PersonError(`There is no folder ${folder}: give one that holds corrected sheets.`);
  const labelled = readdirSync(folder)
    .filter((file) => SHEET_FILE.test(file))
    .sort()
    .map((file) => {
      const path = join(folder, file);
      const made = critiqueOf(readSheet(readFileSync(path, 'utf8'), path));
      return { ...made, file, critique: { ...made.critique, name: file.replace(SHEET_FILE, '') } };
    })
    .filter(({ byHand }) => byHand > 0);
  if (labelled.length === 0) {
    throw new PersonError(
      `${folder} holds no sheet that was corrected: go through one with "critsheet check" first.`,
    );
  }
  return labelled;
}
