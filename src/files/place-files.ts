import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { systemCode, writingFault } from '../basics/system-message.ts';
import { writtenName } from '../sheet/file-names.ts';
import { labels } from '../sheet/read-sheet.ts';
import type { Writer } from '../sheet/writers/writer.ts';
import { makeOutputFolder } from './output-folder.ts';
import { writeWhole } from './write-whole.ts';

/** A record that files are made from. */
export interface Written {
  readonly schema: string;
  readonly recording: { readonly sha256: string };
}

export interface Placing<T extends Written> {
  readonly record: T;
  readonly formats: readonly string[];
  readonly writers: Readonly<Record<string, Writer<T>>>;
  readonly folder: string;
  /** What all names begin with. */
  readonly name: string;
  /** The number to begin with; 1 where there is no reason for another. */
  readonly number?: number;
  /** Reads a record that was written before. */
  readonly reread: (text: string, file: string) => T;
  /** The record that the files there may have been written from, where it is known without its JSON file. */
  readonly before?: T;
  /** The record as it was before a person corrected it: files beside it may still have been written from that. */
  readonly uncorrect?: (record: T) => T;
  readonly write?: (path: string, text: string) => Promise<void>;
}

/** The files as they are now, in the order of the formats, and what a person should know of them. */
export interface Placed {
  readonly paths: readonly string[];
  readonly notices: readonly string[];
}

/**
 * Writes a record's files, each at once or not at all, and never over something that would be lost by it.
 *
 * A JSON file is replaced where it is critsheet's own from the same recording. Any other file is replaced where it is,
 * to the letter, what critsheet writes from that older JSON file: so one that a person has edited stays. What stays keeps
 * its name, and the new file gets the next free number.
 */
export async function placeFiles<T extends Written>(placing: Placing<T>): Promise<Placed> {
  const { record, formats, writers, folder, name } = placing;
  const write = placing.write ?? writeWhole;
  await makeOutputFolder(folder);
  const json = formats.includes('json') ? await placeForJson(placing) : null;
  const firstNumber = json?.number ?? placing.number ?? 1;
  const before = json?.before ?? placing.before ?? null;

  const paths = new Map<string, string>();
  const notices: string[] = [];
  // The JSON file comes last: what is beside it is known to be critsheet's own by the JSON that it was made from.
  for (const format of [...formats].sort((a, b) => Number(a === 'json') - Number(b === 'json'))) {
    const writer = writers[format];
    if (!writer) throw new Error(`no writer for ${format}`);
    const text = writer.write(record);
    const known = before && !writer.owns ? [before, placing.uncorrect?.(before) ?? before] : [];
    const earlier = known.map((record) => writer.write(record));
    const isOwn = (there: string): boolean =>
      there === text || earlier.includes(there) || (writer.owns?.(there) ?? false);
    const number =
      format === 'json' ? firstNumber : await freeNumber(placing, writer.ending, firstNumber, isOwn);
    const path = join(folder, writtenName(name, writer.ending, number));
    await write(path, text).catch((error: unknown) => {
      throw writingFault(error, path);
    });
    paths.set(format, path);
    if (number !== (placing.number ?? 1)) notices.push(keptNotice(placing, writer.ending, number));
  }
  return { paths: formats.flatMap((format) => paths.get(format) ?? []), notices };
}

/** The first number whose JSON file is missing or critsheet's own from the same recording, and that older record. */
async function placeForJson<T extends Written>(
  placing: Placing<T>,
): Promise<{ number: number; before: T | null }> {
  const { record, writers, folder, name } = placing;
  const ending = writers.json?.ending ?? '.json';
  for (let number = placing.number ?? 1; ; number++) {
    const file = writtenName(name, ending, number);
    const text = await textOf(join(folder, file));
    if (text === null) return { number, before: null };
    const found = text === undefined ? null : labels(text);
    if (text === undefined || found?.schema !== record.schema || found.sha256 !== record.recording.sha256)
      continue;
    return { number, before: rereadOrNull(placing, text, file) };
  }
}

function rereadOrNull<T extends Written>(placing: Placing<T>, text: string, file: string): T | null {
  try {
    return placing.reread(text, file);
  } catch {
    return null;
  }
}

async function freeNumber<T extends Written>(
  { folder, name }: Placing<T>,
  ending: string,
  from: number,
  isOwn: (text: string) => boolean,
): Promise<number> {
  for (let number = from; ; number++) {
    const text = await textOf(join(folder, writtenName(name, ending, number)));
    if (text === null || (text !== undefined && isOwn(text))) return number;
  }
}

/** A file's text; null where there is no such file, undefined where something is there that cannot be read. */
async function textOf(path: string): Promise<string | null | undefined> {
  try {
    return await readFile(path, 'utf8');
  } catch (error) {
    return systemCode(error) === 'ENOENT' ? null : undefined;
  }
}

function keptNotice<T extends Written>(
  { name, number = 1 }: Placing<T>,
  ending: string,
  used: number,
): string {
  const kept = writtenName(name, ending, number);
  return `${kept} was made from something else or changed since, and is kept; the new one is ${writtenName(name, ending, used)}.`;
}
