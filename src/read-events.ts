import type { Problem } from './basics/problem.ts';
import { type Progress, type ReadOptions, readCritique } from './pipeline.ts';
import type { Sheet } from './sheet/sheet.ts';

/** What is told while a recording is read: how far it is, what was noticed and lived with, and in the end the sheet. */
export type ReadEvent =
  | ({ readonly type: 'progress' } & Progress)
  | ({ readonly type: 'problem' } & Problem)
  | { readonly type: 'sheet'; readonly sheet: Sheet };

/**
 * The whole path, as events: any number of `progress`, then each `problem`, then the `sheet`. Whoever is slower than the
 * work misses progress, never the rest. Leaving the loop stops the work.
 *
 * @param path a recording, captions (.vtt, .srt), or a saved transcript (.json)
 * @throws PersonError where the recording cannot be read; the signal's reason when it is stopped
 */
export async function* readEvents(
  path: string,
  options: Omit<ReadOptions, 'onProgress'> = {},
): AsyncGenerator<ReadEvent, void, void> {
  const left = new AbortController();
  const signal = options.signal ? AbortSignal.any([options.signal, left.signal]) : left.signal;
  let latest: Progress | null = null;
  let wake: () => void = () => undefined;
  const onProgress = (progress: Progress): void => {
    latest = progress;
    wake();
  };
  const reading = readCritique(path, { ...options, signal, onProgress });
  let ended = false;
  const end = (): void => {
    ended = true;
    wake();
  };
  reading.then(end, end);
  try {
    while (!ended) {
      const told = latest as Progress | null;
      latest = null;
      if (told) yield { type: 'progress', ...told };
      else {
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
      }
    }
    const { sheet, problems } = await reading;
    for (const problem of problems) yield { type: 'problem', ...problem };
    yield { type: 'sheet', sheet };
  } finally {
    left.abort();
  }
}
