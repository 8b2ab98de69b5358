import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import { PersonError } from '../basics/problem.ts';
import { readingFault } from '../basics/system-message.ts';
import type { OlderSheet } from '../comparison/with-previous.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Ticks } from '../sheet/ticks.ts';

/** A sheet from its file. @throws PersonError that names the file and says what to do. */
export async function loadSheet(path: string): Promise<Sheet> {
  const { readSheet } = await import('../sheet/read-sheet.ts');
  return readSheet(await textOf(path), basename(path));
}

/**
 * An older sheet and, where they are given, the ticks that its page saved.
 *
 * @throws PersonError where a file cannot be used, or the ticks are of another recording.
 */
export async function loadOlderSheet(path: string, ticksPath: string | undefined): Promise<OlderSheet> {
  const sheet = await loadSheet(path);
  if (ticksPath === undefined) return { sheet };
  const { readTicks } = await import('../sheet/ticks.ts');
  const ticks: Ticks = readTicks(await textOf(ticksPath), basename(ticksPath));
  if (ticks.recording.sha256 !== sheet.recording.sha256) {
    throw new PersonError(
      `${basename(ticksPath)} was saved from the page of ${ticks.recording.file}, and ${basename(path)} is of ${sheet.recording.file}: give the ticks of the older sheet.`,
    );
  }
  return { sheet, ticks };
}

async function textOf(path: string): Promise<string> {
  return readFile(path, 'utf8').catch((error: unknown) => {
    throw readingFault(error, path);
  });
}
