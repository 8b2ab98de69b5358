import { createHash } from 'node:crypto';
import { z } from 'zod';
import { canonicalJson } from '../basics/canonical-json.ts';
import type { Ingredients, KeptKind } from '../basics/kept.ts';

/** The first line of an entry's file; the result is the second. */
const headSchema = z.object({
  schema: z.literal('critsheet-kept/1'),
  kind: z.string(),
  version: z.number(),
  /** SHA-256 of the second line. */
  sha256: z.string(),
});

type AnyKind = Pick<KeptKind<unknown>, 'name' | 'version'>;

/** The name by which a result is found again: SHA-256 over its kind, its version and all it was made of. */
export function entryId(kind: AnyKind, of: Ingredients): string {
  return sha256(canonicalJson({ kind: kind.name, version: kind.version, of }));
}

/** Writes a result as the text of an entry. */
export function entryText(kind: AnyKind, result: unknown): string {
  const line = JSON.stringify(result);
  const head: z.infer<typeof headSchema> = {
    schema: 'critsheet-kept/1',
    kind: kind.name,
    version: kind.version,
    sha256: sha256(line),
  };
  return `${JSON.stringify(head)}\n${line}\n`;
}

/** The result in the text of an entry; undefined where the text is not whole or holds something else. */
export function resultOf<T>(kind: KeptKind<T>, text: string): T | undefined {
  const [first = '', line = ''] = text.split('\n');
  const head = headSchema.safeParse(parsed(first)).data;
  const fits = head?.kind === kind.name && head.version === kind.version && head.sha256 === sha256(line);
  return fits ? kind.schema.safeParse(parsed(line)).data : undefined;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
