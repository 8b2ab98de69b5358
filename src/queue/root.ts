import { realpath } from 'node:fs/promises';
import { isAbsolute, join, relative, resolve, sep } from 'node:path';
import { PersonError } from '../basics/problem.ts';

/**
 * The shared folder as it really lies on the disk.
 *
 * @throws PersonError where it is not there.
 */
export async function realRoot(root: string): Promise<string> {
  return realpath(root).catch(() => {
    throw new PersonError(`There is no folder ${root}: give the folder that all machines share with --root.`);
  });
}

/**
 * A path as all machines write it: from the shared folder, with "/" between its parts.
 *
 * @throws PersonError where it lies outside.
 */
export async function pathInside(root: string, path: string): Promise<string> {
  const inside = relative(await realRoot(root), await realPlace(resolve(path)));
  if (isOutside(inside)) {
    throw new PersonError(
      `${path} is not in ${root}, which the machines share: move it there, or give another folder with --root.`,
    );
  }
  return inside === '' ? '.' : inside.split(sep).join('/');
}

/**
 * A path of this machine, from one that lay on a queue. Links are followed: none may lead out of the shared folder.
 *
 * @throws PersonError where it leads outside.
 */
export async function wholePath(root: string, path: string): Promise<string> {
  const real = await realRoot(root);
  const whole = join(real, ...path.split('/'));
  if (
    isAbsolute(path) ||
    path.includes('\0') ||
    isOutside(relative(real, whole)) ||
    isOutside(relative(real, await realPlace(whole)))
  ) {
    throw new PersonError(
      `The queue names ${JSON.stringify(path)}, which leads out of the shared folder: it was not touched.`,
    );
  }
  return whole;
}

function isOutside(path: string): boolean {
  return isAbsolute(path) || path === '..' || path.startsWith(`..${sep}`);
}

/** Where a path really lies, links followed as far as it is there. */
async function realPlace(path: string): Promise<string> {
  const there = await realpath(path).catch(() => null);
  if (there !== null) return there;
  const above = resolve(path, '..');
  return above === path ? path : join(await realPlace(above), path.slice(above.length).replace(sep, ''));
}
