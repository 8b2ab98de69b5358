import { createRequire } from 'node:module';
import { isAbsolute, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { z } from 'zod';
import { messageOf, PersonError } from '../basics/problem.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { Writer } from '../sheet/writers/writer.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';

/** What a module outside critsheet gives as its default to write sheets in a format of its own. */
export interface OutsideWriter extends Writer<Sheet> {
  /** What the format is called: small letters, digits and hyphens. */
  readonly format: string;
}

const moduleSchema = z.object({
  default: z.object({
    format: z.string().regex(/^[a-z][a-z0-9-]*$/, 'small letters, digits and hyphens are expected'),
    ending: z.string().regex(/^(\.[A-Za-z0-9_-]+)+$/, 'it must be like ".tally.txt"'),
    says: z.string().default(''),
    leavesOut: z.string().nullable().default(null),
    write: z.custom<(sheet: Sheet) => unknown>(
      (value) => typeof value === 'function',
      'a function is expected',
    ),
  }),
});

const FORM = 'It must have { format, ending, write } as its default export: DEVELOPERS.md tells how.';

/**
 * Loads writers that a person named. This runs their code, so names never come from anywhere but a person's own command line:
 * neither from settings beside recordings nor from a queue.
 *
 * @param modules Files, or packages as they are found from the working folder.
 * @returns Writers by format.
 * @throws PersonError where one cannot be loaded, is no writer, or is called as one that there is.
 */
export async function loadWriters(modules: readonly string[]): Promise<Record<string, Writer<Sheet>>> {
  const writers: Record<string, Writer<Sheet>> = {};
  for (const name of modules) {
    const { format, ...writer } = await loadWriter(name);
    const others = { ...SHEET_AND_TRANSCRIPT_WRITERS, ...writers };
    if (format in others) {
      throw new PersonError(
        `The writer ${name} calls its format "${format}", which there is already: give it another name.`,
      );
    }
    const same = Object.entries(others).find(([, other]) => other.ending === writer.ending);
    if (same) {
      throw new PersonError(
        `The writer ${name} ends its files with "${writer.ending}" as the format ${same[0]} does: give them another ending.`,
      );
    }
    writers[format] = writer;
  }
  return writers;
}

/**
 * Those of the writers from outside that can write a sheet, and a sentence for each that cannot: an hour's reading must not be
 * lost by one of them.
 */
export function workingWriters(
  outside: Readonly<Record<string, Writer<Sheet>>>,
  sheet: Sheet,
): { working: Record<string, Writer<Sheet>>; messages: string[] } {
  const working: Record<string, Writer<Sheet>> = {};
  const messages: string[] = [];
  for (const [format, writer] of Object.entries(outside)) {
    try {
      writer.write(sheet);
      working[format] = writer;
    } catch (error) {
      messages.push(messageOf(error));
    }
  }
  return { working, messages };
}

async function loadWriter(name: string): Promise<OutsideWriter> {
  const loaded = await load(name);
  const parsed = moduleSchema.safeParse({ ...(loaded as object) });
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const where = issue?.path.slice(1).join('.') || 'its default export';
    throw new PersonError(`${name} is not a writer (${where}: ${issue?.message ?? 'missing'}). ${FORM}`);
  }
  const { write, ...rest } = parsed.data.default;
  return { ...rest, write: (sheet) => textFrom(name, write, sheet) };
}

async function load(name: string): Promise<unknown> {
  try {
    return await import(addressOf(name));
  } catch (error) {
    throw new PersonError(
      `The writer ${name} cannot be loaded (${messageOf(error).split('\n')[0]}): give a module's file as ./writer.mjs, or an installed package.`,
      { cause: error },
    );
  }
}

function addressOf(name: string): string {
  const isFile = isAbsolute(name) || /^\.{1,2}[\\/]|\.[cm]?[jt]s$/.test(name);
  const path = isFile ? resolve(name) : createRequire(join(process.cwd(), 'from-here.js')).resolve(name);
  return pathToFileURL(path).href;
}

/** The writer gets a copy: what it does to it is its own affair. */
function textFrom(name: string, write: (sheet: Sheet) => unknown, sheet: Sheet): string {
  let text: unknown;
  try {
    text = write(structuredClone(sheet));
  } catch (error) {
    throw new PersonError(
      `The writer ${name} failed on this sheet (${messageOf(error)}): mend it, or leave it out.`,
      {
        cause: error,
      },
    );
  }
  if (typeof text === 'string') return text;
  throw new PersonError(`The writer ${name} gave no text for this sheet: its write must return a string.`);
}
