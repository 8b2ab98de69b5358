import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { readingFault, writingFault } from '../basics/system-message.ts';
import { applyCorrections, type Unfit } from '../corrections/apply.ts';
import { uncorrect } from '../corrections/correctable.ts';
import type { Decision } from '../corrections/corrections.ts';
import { retitleWith } from '../corrections/retitle.ts';
import { writeWhole } from '../files/write-whole.ts';
import { loadLanguage } from '../language/language.ts';
import type { Note } from '../notes/note.ts';
import { riskOf } from '../notes/refiners/check.ts';
import { readSheet } from '../sheet/read-sheet.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { writeJson } from '../sheet/writers/json.ts';
import { addDecisions, correctionsPath, loadCorrections } from './corrections-file.ts';

/** What stands: the corrected sheet, and every decision that made it so. */
export interface Standing {
  readonly sheet: Sheet;
  readonly decisions: readonly Decision[];
  readonly revision: number;
  readonly unfit: readonly Unfit[];
}

/** A sheet that a person is checking. */
export interface Session {
  readonly sheetPath: string;
  readonly correctionsPath: string;
  /** As of the last look at the disk. */
  readonly now: () => Standing;
  /** Looks whether another program saved corrections meanwhile. */
  readonly refresh: () => Promise<Standing>;
  /** Saves decisions, and the sheet as they make it. @throws PersonError where that cannot be written. */
  readonly decide: (added: readonly Decision[]) => Promise<Standing>;
}

/**
 * Opens a sheet for checking.
 *
 * @throws PersonError where the sheet or its corrections cannot be read.
 */
export async function openSession(sheetPath: string): Promise<Session> {
  const text = await readFile(sheetPath, 'utf8').catch((error: unknown) => {
    throw readingFault(error, sheetPath);
  });
  const read = uncorrect(readSheet(text, basename(sheetPath)));
  const path = correctionsPath(sheetPath);
  const retitle = retitleWith(loadLanguage(), read.shot.characters.length);
  const standingOf = (decisions: readonly Decision[], revision: number): Standing => ({
    ...applyCorrections(read, decisions, retitle),
    decisions,
    revision,
  });
  const load = async (): Promise<Standing> => {
    const kept = await loadCorrections(path, read.recording);
    return standingOf(kept?.decisions ?? [], kept?.revision ?? 0);
  };
  let standing = await load();
  return {
    sheetPath,
    correctionsPath: path,
    now: () => standing,
    refresh: async () => {
      const kept = await loadCorrections(path, read.recording);
      if ((kept?.revision ?? 0) !== standing.revision) {
        standing = standingOf(kept?.decisions ?? [], kept?.revision ?? 0);
      }
      return standing;
    },
    decide: async (added) => {
      await addDecisions(path, read.recording, added, async (kept) => {
        standing = standingOf(kept.decisions, kept.revision);
        const json = writeJson(standing.sheet, ['words', 'statements']);
        await writeWhole(sheetPath, json).catch((error: unknown) => {
          throw writingFault(error, sheetPath);
        });
      });
      return standing;
    },
  };
}

/** The notes that a person should look at, the least sure first. */
export function queueOf(notes: readonly Note[]): Note[] {
  return notes
    .filter((note) => note.check.length > 0)
    .sort((a, b) => riskOf(b.confidence) - riskOf(a.confidence) || a.rank - b.rank);
}
