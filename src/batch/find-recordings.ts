import { stat } from 'node:fs/promises';
import { dirname, isAbsolute, join, resolve } from 'node:path';
import { glob, isDynamicPattern } from 'tinyglobby';
import { PersonError } from '../basics/problem.ts';
import { findSettings, isLeftOut } from '../files/settings-file.ts';
import { liesBesideRecordings, looksLikeRecording } from './recording-files.ts';

/** What stands on the command line, looked up on disk. */
export interface Found {
  /** In the order of the command line, those of a folder or a pattern by name; each once. */
  readonly recordings: readonly string[];
  /** Whether the command line means one recording by its name, and no folder or pattern. */
  readonly one: boolean;
}

/**
 * Finds the recordings that files, folders and patterns stand for. A file that is named is taken as it is, there or not.
 *
 * @param nested Whether the folders in a folder are looked through too.
 * @throws PersonError where a folder or a pattern holds no recording.
 */
export async function findRecordings(args: readonly string[], nested: boolean): Promise<Found> {
  const lists: string[][] = [];
  let one = args.length === 1;
  for (const arg of args) {
    const there = await stat(arg).catch(() => null);
    if (there?.isDirectory()) {
      one = false;
      lists.push(await inFolder(arg, nested));
    } else if (!there && isDynamicPattern(arg)) {
      one = false;
      lists.push(await byPattern(arg));
    } else if (args.length === 1 || !liesBesideRecordings(arg)) {
      lists.push([arg]);
    }
  }
  const recordings = new Map(lists.flat().map((path) => [resolve(path), path]));
  if (recordings.size === 0) {
    throw new PersonError('None of these files is a recording: name the recordings, or their folder.');
  }
  return { recordings: [...recordings.values()], one };
}

async function inFolder(folder: string, nested: boolean): Promise<string[]> {
  const names = await glob(nested ? '**' : '*', { cwd: folder, expandDirectories: false });
  const paths = names.filter(looksLikeRecording).map((name) => join(folder, name));
  const found = await withoutLeftOut(paths.sort(byName));
  if (found.length > 0) return found;
  const deeper = nested ? '' : ', or look through the folders in it with --nested';
  throw new PersonError(
    `There is no recording in ${folder}: give a folder that holds sound or video files${deeper}.`,
  );
}

async function byPattern(pattern: string): Promise<string[]> {
  const found = await glob(process.platform === 'win32' ? pattern.replaceAll('\\', '/') : pattern, {
    expandDirectories: false,
    absolute: isAbsolute(pattern),
  });
  // Words that were written down are taken where the pattern asks for them, and left where it only lets them through.
  const words = /\.(vtt|srt|transcript\.json)$/i.exec(pattern)?.[0].toLowerCase();
  const isWanted = (path: string) =>
    looksLikeRecording(path) ||
    (words !== undefined && path.toLowerCase().endsWith(words) && !liesBesideRecordings(path));
  const recordings = await withoutLeftOut(found.filter(isWanted).sort(byName));
  if (recordings.length > 0) return recordings;
  throw new PersonError(`No recording fits the pattern ${pattern}: look at the folder and the endings.`);
}

/** Without those that a critsheet.json says to leave out. */
async function withoutLeftOut(paths: readonly string[]): Promise<string[]> {
  const kept: string[] = [];
  for (const path of paths) {
    if (!isLeftOut(path, await findSettings(dirname(path)))) kept.push(path);
  }
  return kept;
}

/** "take10" after "take9", as people number. */
function byName(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true });
}
