import { constants } from 'node:fs';
import { access } from 'node:fs/promises';
import { delimiter, isAbsolute, join } from 'node:path';

/** The program's path, from the absolute folders of the PATH alone: never one that lies in the working folder. */
export async function findOnPath(program: string): Promise<string | null> {
  const names = process.platform === 'win32' ? [`${program}.exe`] : [program];
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    if (!isAbsolute(folder)) continue;
    for (const name of names) {
      const path = join(folder, name);
      const usable = await access(path, constants.X_OK).then(
        () => true,
        () => false,
      );
      if (usable) return path;
    }
  }
  return null;
}
