import { basename } from 'node:path';
import { PersonError } from '../basics/problem.ts';
import type { OlderSheet } from '../comparison/with-previous.ts';
import { readTicks } from '../sheet/ticks.ts';
import { readText } from './read-text.ts';
import { loadSheet } from './sheet-file.ts';

/**
 * An older sheet and, where they are given, the ticks that its page saved.
 *
 * @throws PersonError where a file cannot be used, or the ticks are of another recording.
 */
export async function loadOlderSheet(path: string, ticksPath: string | undefined): Promise<OlderSheet> {
  const sheet = await loadSheet(path);
  if (ticksPath === undefined) return { sheet };
  const ticks = readTicks(await readText(ticksPath), basename(ticksPath));
  if (ticks.recording.sha256 !== sheet.recording.sha256) {
    throw new PersonError(
      `${basename(ticksPath)} was saved from the page of ${ticks.recording.file}, and ${basename(path)} is of ${sheet.recording.file}: give the ticks of the older sheet.`,
    );
  }
  return { sheet, ticks };
}
