import type { ZodType, z } from 'zod';
import { describeIssue } from './json-issue.ts';
import { findSyntaxFault } from './json-syntax.ts';
import { messageOf, PersonError } from './problem.ts';

/** What a record file is called in messages, and what to do where it is not one. */
export interface RecordKind {
  /** With its article: "a shot file". */
  readonly what: string;
  /** A sentence of advice that ends each message. */
  readonly advice: string;
}

const BYTE_ORDER_MARK = '\uFEFF';

/**
 * Reads a record from the text of a JSON file.
 *
 * @param file The name that messages give.
 * @throws PersonError that names the file, the line or the key, and what to do.
 */
export function parseRecord<T extends ZodType>(
  text: string,
  file: string,
  schema: T,
  kind: RecordKind,
): z.output<T> {
  const value = parseJson(text, file, kind);
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  const [first, ...more] = result.error.issues;
  const others = more.length > 0 ? ` (and ${more.length} more)` : '';
  const said = first ? describeIssue(first, schema, value) : 'it does not fit';
  throw new PersonError(`${file} is not ${kind.what} that can be used: ${said}${others}. ${kind.advice}`);
}

function parseJson(text: string, file: string, kind: RecordKind): unknown {
  const clean = text.startsWith(BYTE_ORDER_MARK) ? text.slice(1) : text;
  if (clean.trim() === '')
    throw new PersonError(`${file} is empty, where ${kind.what} was expected. ${kind.advice}`);
  try {
    return JSON.parse(clean);
  } catch (error) {
    const fault = findSyntaxFault(clean);
    const said = fault ? `at line ${fault.line}, column ${fault.column} ${fault.message}` : messageOf(error);
    throw new PersonError(`${file} is not JSON: ${said}. ${kind.advice}`);
  }
}
