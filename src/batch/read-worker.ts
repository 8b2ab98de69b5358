import type { MessagePort } from 'node:worker_threads';
import { workerData } from 'piscina';
import { z } from 'zod';
import { limitModelThreads } from '../transcript/engines/library.ts';
import { doReadJob } from './do-read-job.ts';
import { failureOf, type Outcome } from './outcome.ts';
import type { ReadJob } from './read-job.ts';

/** What a worker is told once, when it begins. */
const workerDataSchema = z.object({ modelThreads: z.int().positive() });

/** What goes to a worker: the job, and a port by which it tells how far it is and hears that it shall stop. */
export interface ReadTask {
  readonly job: ReadJob;
  readonly port: MessagePort;
}

limitModelThreads(workerDataSchema.parse(workerData).modelThreads);

/** The whole of a worker thread: one job after another. A job that fails is an outcome too, for the worker lives on. */
export default async function readInWorker({ job, port }: ReadTask): Promise<Outcome> {
  const stop = new AbortController();
  port.on('message', () => stop.abort());
  try {
    const { result } = await doReadJob(job, {
      signal: stop.signal,
      onProgress: (progress) => port.postMessage(progress),
    });
    return { result };
  } catch (error) {
    return { failure: failureOf(job.recording, error) };
  } finally {
    port.close();
  }
}
