import { randomBytes } from 'node:crypto';
import { chmod, open, readdir, realpath, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/** What a killed program left behind is put away when it is so old that nobody can still be writing it. */
const LEFT_BEHIND_MILLISECONDS = 60_000;

/**
 * Writes a file at once or not at all. It is made under a hidden name beside its place, so that somebody who looks into the
 * folder, or a program that reads what lies there, never finds a part of it, even where this process is killed.
 *
 * Every byte is seen to be written before the name is given: a disk that fills takes the first part of a text without complaint.
 *
 * @throws The system's error; what was there before is then as it was.
 */
export async function writeWhole(path: string, text: string): Promise<void> {
  await putAwayOld(await writeAside(path, text));
}

export interface AsideOptions {
  /** The permissions of a new file, less what the system's mask takes; one that was there keeps its own. */
  readonly mode?: number;
  /** Whether the text is on the disk before the name is given, so that a power cut tears nothing; it is where this is left out. */
  readonly flushed?: boolean;
}

/**
 * The same for many files of one folder, whose owner looks after what killed programs left there.
 *
 * @returns Where the file is, links followed.
 * @throws The system's error; what was there before is then as it was.
 */
export async function writeAside(
  path: string,
  text: string,
  { mode, flushed = true }: AsideOptions = {},
): Promise<string> {
  const target = await realpath(path).catch(() => path);
  const hidden = join(dirname(target), `.${basename(target)}.${randomBytes(4).toString('hex')}.part`);
  const before = await stat(target).catch(() => null);
  try {
    const file = await open(hidden, 'wx', mode);
    try {
      await file.writeFile(text, 'utf8');
      if (flushed) await file.sync();
    } finally {
      await file.close();
    }
    if (before) await chmod(hidden, before.mode);
    await rename(hidden, target);
  } catch (error) {
    await rm(hidden, { force: true }).catch(() => undefined);
    throw error;
  }
  return target;
}

async function putAwayOld(target: string): Promise<void> {
  const [folder, start] = [dirname(target), `.${basename(target)}.`];
  const names = await readdir(folder).catch(() => []);
  for (const name of names) {
    if (!name.startsWith(start) || !/^[0-9a-f]{8}\.part$/.test(name.slice(start.length))) continue;
    const path = join(folder, name);
    const age = Date.now() - ((await stat(path).catch(() => null))?.mtimeMs ?? Date.now());
    if (age > LEFT_BEHIND_MILLISECONDS) await rm(path, { force: true }).catch(() => undefined);
  }
}
