import { dirname } from 'node:path';

/** What "read" and "transcribe" take alike. */
export interface ReadingArguments {
  readonly model?: string;
  readonly glossary?: string;
  readonly out?: string;
  readonly as?: readonly string[];
  readonly json?: true;
  readonly verbose?: true;
}

/** Where a recording's files go; null where the result is only printed. */
export function folderFor(recording: string, { out, as, json }: ReadingArguments): string | null {
  if (json && out === undefined && as === undefined) return null;
  return out ?? dirname(recording);
}
