import { parseRecord } from '../basics/json-record.ts';
import { PersonError } from '../basics/problem.ts';
import { SHEET_SCHEMA, type Sheet, sheetSchema } from './sheet.ts';

/**
 * Reads a sheet from the text of its JSON file. Keys that this version does not know are kept.
 *
 * @param file The name that messages give.
 * @throws PersonError where it is not a sheet; the message says what is wrong and what to do.
 */
export function readSheet(text: string, file: string): Sheet {
  const advice = 'Give a .sheet.json file that "critsheet read" wrote, or read the recording again.';
  const label = schemaLabel(text);
  if (label !== undefined && label !== SHEET_SCHEMA) {
    throw new PersonError(
      `${file} is marked "${label}", and this version reads "${SHEET_SCHEMA}". ${advice}`,
    );
  }
  return parseRecord(text, file, sheetSchema, { what: 'a sheet', advice });
}

/** The label a record carries, if the text is JSON and has one; undefined otherwise. */
export function schemaLabel(text: string): string | undefined {
  return labels(text)?.schema;
}

/** What tells whose file a JSON text is: its schema and the checksum of its recording. */
export function labels(text: string): { schema?: string; sha256?: string } | null {
  try {
    const value = JSON.parse(text) as { schema?: unknown; recording?: { sha256?: unknown } } | null;
    const { schema, recording } = value ?? {};
    return {
      ...(typeof schema === 'string' && { schema }),
      ...(typeof recording?.sha256 === 'string' && { sha256: recording.sha256 }),
    };
  } catch {
    return null;
  }
}
