import { z } from 'zod';
import type { Kept, KeptKind } from '../../basics/kept.ts';
import { passSchema } from '../../basics/pass.ts';
import type { OpenRecording } from '../open-recording.ts';
import { COUNTER_VERSION, type CounterOptions, type CounterReading, readCounter } from './read-counter.ts';

/** What a sheet needs of a counter's reading. */
export type CounterPasses = Pick<CounterReading, 'passes' | 'summary' | 'problems'>;

const KEPT_COUNTER: KeptKind<CounterPasses> = {
  name: 'counter',
  version: COUNTER_VERSION,
  schema: z.object({
    passes: z.array(passSchema),
    summary: z.string().nullable(),
    problems: z.array(z.object({ stage: z.string(), message: z.string() })),
  }),
};

/**
 * Reads the frame counter of a recording, unless it was read before.
 *
 * @param recording The same file, with its checksum.
 * @throws As `readCounter` does.
 */
export async function readCounterOnce(
  path: string,
  recording: OpenRecording,
  { kept, ...options }: CounterOptions & { readonly kept?: Kept | undefined },
): Promise<CounterPasses> {
  const { fps, first, last } = options.shot;
  // Its sentences name the file.
  const of = {
    recording: recording.sha256,
    file: recording.file,
    region: options.region ? { ...options.region } : null,
    shot: { fps, first, last },
  };
  const known = await kept?.get(KEPT_COUNTER, of);
  if (known) return known;
  const { looked, passes, summary, problems } = await readCounter(path, options);
  // Where pictures could not be read, another day may bring what reads them.
  if (looked) await kept?.put(KEPT_COUNTER, of, { passes, summary, problems });
  return { passes, summary, problems };
}
