import { existsSync, readdirSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PersonError } from '../basics/problem.ts';
import { processScreen } from '../commands/screen.ts';
import { showProgress } from '../commands/show-progress.ts';
import { findShotFile, readShotFile } from '../files/shot-file.ts';
import { readCritique } from '../pipeline.ts';
import { SHEET_WRITERS } from '../sheet/writers/writers.ts';

/** Reads the first sample recording and prints its sheet; writes no file. */
const samples = fileURLToPath(new URL('../../samples', import.meta.url));

function firstRecording(): string {
  const folders = existsSync(samples) ? readdirSync(samples, { withFileTypes: true }) : [];
  const names = folders.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  for (const name of names.sort()) {
    const file = readdirSync(join(samples, name)).find((one) => one.startsWith('recording.'));
    if (file) return join(samples, name, file);
  }
  throw new PersonError(`There is no sample recording in ${samples}.`);
}

const recording = firstRecording();
const screen = processScreen();
screen.tell(`critsheet: reading ${relative(process.cwd(), recording)}, a recording of our own invention`);
const progress = showProgress(screen, false);
const shotFile = await findShotFile(recording);
const { sheet, problems } = await readCritique(recording, {
  ...(shotFile && { shot: await readShotFile(shotFile) }),
  onProgress: progress.onProgress,
}).finally(progress.stop);
for (const { message } of problems) screen.tell(`critsheet: ${message}`);
screen.print(SHEET_WRITERS.md?.write(sheet).trimEnd() ?? '');
