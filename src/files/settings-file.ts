import { basename, dirname, join, resolve } from 'node:path';
import { z } from 'zod';
import { parseRecord, type RecordKind } from '../basics/json-record.ts';
import { PersonError } from '../basics/problem.ts';
import { knownShotSchema } from '../basics/shot.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';
import { readTextIfThere } from './read-text.ts';

export const SETTINGS_FILE = 'critsheet.json';

/** What a person settles once for all recordings of a folder and the folders in it. */
const settingsSchema = z.strictObject({
  /** What is known of every shot; the shot file beside a recording says more, and counts more. */
  shot: knownShotSchema.default({}),
  /** What is written beside json and md. */
  formats: z.array(z.enum(Object.keys(SHEET_AND_TRANSCRIPT_WRITERS))).optional(),
  model: z.string().min(1).optional(),
  /** The folder for the files, from where the settings lie. */
  out: z.string().min(1).optional(),
  /** What files are called that are no recordings of critiques; a * stands for anything. */
  ignore: z.array(z.string().min(1)).default([]),
});

export interface Settings extends z.infer<typeof settingsSchema> {
  /** Where they were found. */
  readonly path: string;
}

/**
 * The settings that hold for the files of a folder: of the nearest critsheet.json in it or above it; null where there is
 * none. Paths in it are made whole.
 *
 * @throws PersonError that names the file, the key, what stands there and what is allowed.
 */
export async function findSettings(folder: string): Promise<Settings | null> {
  for (let here = resolve(folder); ; here = dirname(here)) {
    const path = join(here, SETTINGS_FILE);
    const text = await readTextIfThere(path);
    if (text !== null) return parseSettings(text, path);
    if (dirname(here) === here) return null;
  }
}

/** @param path Where the text was found: messages name it, and paths in it count from its folder. */
export function parseSettings(text: string, path: string): Settings {
  const kind = { what: 'a file of settings', advice: `Mend ${path}, or move it away.` };
  refuseCode(text, kind);
  const { out, model, ...rest } = parseRecord(text, SETTINGS_FILE, settingsSchema, kind);
  const here = dirname(path);
  return {
    ...rest,
    ...(out !== undefined && { out: resolve(here, out) }),
    // A model is named by its id or by its folder, and only a folder's name has a slash.
    ...(model !== undefined && { model: /[/\\]/.test(model) ? resolve(here, model) : model }),
    path,
  };
}

/**
 * Settings hold for whoever reads recordings of their folder, and a folder of recordings may come from anybody: what runs
 * code is never taken from there. There is no key for it, and whoever looks for one is told what to do instead.
 */
function refuseCode(text: string, kind: RecordKind): void {
  const keys = Object.keys(parseRecord(text, SETTINGS_FILE, z.looseObject({}), kind));
  const key = keys.find((one) => /^writers?$/i.test(one));
  if (key === undefined) return;
  throw new PersonError(
    `${SETTINGS_FILE} may not name writers, because a writer's code is run and settings lie in folders that anybody may have made: take "${key}" out of it, and give --writer on the command line. ${kind.advice}`,
  );
}

/** Whether the settings say of a file that it is no recording of a critique. */
export function isLeftOut(path: string, settings: Settings | null): boolean {
  const name = basename(path);
  return (settings?.ignore ?? []).some((pattern) => {
    const parts = pattern.split('*').map((part) => part.replace(/[.*+?^${}()|[\]\\]/g, '\\$&'));
    return new RegExp(`^${parts.join('.*')}$`, 'i').test(name);
  });
}
