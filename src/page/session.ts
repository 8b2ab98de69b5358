import { writingFault } from '../basics/system-message.ts';
import { applyCorrections, type Unfit } from '../corrections/apply.ts';
import { uncorrect } from '../corrections/correctable.ts';
import type { Corrections, Decision } from '../corrections/corrections.ts';
import { retitleWith } from '../corrections/retitle.ts';
import { loadSheet } from '../files/sheet-file.ts';
import { writeWhole } from '../files/write-whole.ts';
import { loadLanguage } from '../language/language.ts';
import type { Note } from '../notes/note.ts';
import { riskOf } from '../notes/refiners/check.ts';
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

type Saved = Pick<Corrections, 'decisions' | 'revision'>;

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
  const read = uncorrect(await loadSheet(sheetPath));
  const path = correctionsPath(sheetPath);
  const retitle = retitleWith(loadLanguage(), read.shot.characters.length);
  const standingOf = ({ decisions, revision }: Saved): Standing => ({
    ...applyCorrections(read, decisions, retitle),
    decisions,
    revision,
  });
  const saved = async (): Promise<Saved> =>
    (await loadCorrections(path, read.recording)) ?? { decisions: [], revision: 0 };
  let standing = standingOf(await saved());
  return {
    sheetPath,
    correctionsPath: path,
    now: () => standing,
    refresh: async () => {
      const now = await saved();
      if (now.revision !== standing.revision) standing = standingOf(now);
      return standing;
    },
    decide: async (added) => {
      await addDecisions(path, read.recording, added, async (kept) => {
        standing = standingOf(kept);
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
