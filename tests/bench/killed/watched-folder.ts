import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';

/** The files of a folder by name with their texts; hidden ones are left out, as a file manager leaves them out. */
export function visibleFiles(folder: string): Map<string, string> {
  const files = new Map<string, string>();
  for (const name of namesIn(folder)) {
    const text = name.startsWith('.') ? null : textOf(join(folder, name));
    if (text !== null) files.set(name, text);
  }
  return files;
}

/** Looks into a folder again and again, as whoever waits for the sheets would. */
export class WatchedFolder {
  /** What was seen that no undisturbed reading writes: parts, and names that are none of its. */
  readonly strange = new Set<string>();
  looks = 0;
  private readonly seen = new Map<string, number>();
  private timer: NodeJS.Timeout | undefined;
  private readonly folder: string;
  private readonly right: ReadonlyMap<string, string>;
  private readonly onNew: () => void;

  /** @param onNew called when a name is there that was not, hidden ones too: a file is being written */
  constructor(folder: string, right: ReadonlyMap<string, string>, onNew: () => void = () => undefined) {
    this.folder = folder;
    this.right = right;
    this.onNew = onNew;
  }

  start(): void {
    this.timer = setInterval(() => this.look(), 1);
  }

  stop(): void {
    clearInterval(this.timer);
    this.look();
  }

  private look(): void {
    this.looks++;
    for (const name of namesIn(this.folder)) {
      // The mark of who reads it is there from the beginning, and is a folder.
      if (name.endsWith('.critsheet-lock')) continue;
      const at = timeOf(join(this.folder, name));
      if (at === null || this.seen.get(name) === at) continue;
      this.seen.set(name, at);
      this.onNew();
      if (name.startsWith('.')) continue;
      const text = textOf(join(this.folder, name));
      if (text !== null && text !== this.right.get(name)) {
        this.strange.add(`${name} with ${text.length} of ${this.right.get(name)?.length ?? 'no'} characters`);
      }
    }
  }
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch {
    // Not there yet.
    return [];
  }
}

function textOf(path: string): string | null {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return null;
  }
}

function timeOf(path: string): number | null {
  try {
    return statSync(path).mtimeMs;
  } catch {
    return null;
  }
}
