import { availableParallelism, totalmem } from 'node:os';
import { fileURLToPath } from 'node:url';
import { MessageChannel } from 'node:worker_threads';
import { Piscina } from 'piscina';
import type { Progress } from '../pipeline.ts';
import type { Watch } from './do-read-job.ts';
import { failureOf, type Outcome } from './outcome.ts';
import type { ReadJob } from './read-job.ts';
import type { ReadTask } from './read-worker.ts';

/** What a worker takes while it reads a recording of some minutes, model and sound together. */
const WORKER_BYTES = 700e6;
/** The share of the machine's memory that is taken at most. */
const MEMORY_SHARE = 0.5;

/** A bounded number of worker threads that read recordings. */
export interface Pool {
  /** How many recordings are read at once. */
  readonly size: number;
  /**
   * Reads one recording as soon as a worker is free.
   *
   * @throws The signal's reason where it was aborted; everything else that goes wrong is an outcome.
   */
  run(job: ReadJob, watch?: Watch): Promise<Outcome>;
  close(): Promise<void>;
}

/** As many recordings at once as the machine has cores, and fewer where its memory is small. */
export function atOnceByDefault(
  cores: number = availableParallelism(),
  memoryBytes: number = availableMemory(),
): number {
  return Math.max(1, Math.min(cores, Math.floor((memoryBytes * MEMORY_SHARE) / WORKER_BYTES)));
}

/** Of the machine, or of the box that this process was put in; a box without a limit says 0 or a number beyond reason. */
function availableMemory(): number {
  const limit = process.constrainedMemory();
  return limit > 0 ? Math.min(limit, totalmem()) : totalmem();
}

/**
 * Opens a pool; threads begin with the first jobs.
 *
 * @param size How many recordings are read at once.
 */
export function openPool(size: number = atOnceByDefault()): Pool {
  // Each recording on a core of its own: a model's threads wait for each other, two recordings do not.
  const modelThreads = Math.max(1, Math.floor(availableParallelism() / size));
  const threads = new Piscina({
    filename: workerFile(),
    minThreads: 0,
    maxThreads: size,
    idleTimeout: 30_000,
    workerData: { modelThreads },
    execArgv: workerArguments(),
  });
  return {
    size,
    run: async (job, { signal, onProgress } = {}) => {
      signal?.throwIfAborted();
      const { port1, port2 } = new MessageChannel();
      const stop = () => port1.postMessage('stop');
      signal?.addEventListener('abort', stop);
      port1.on('message', (progress: Progress) => onProgress?.(progress));
      port1.unref();
      const task: ReadTask = { job, port: port2 };
      try {
        const outcome = (await threads.run(task, { transferList: [port2] })) as Outcome;
        signal?.throwIfAborted();
        return outcome;
      } catch (error) {
        signal?.throwIfAborted();
        // A thread that ended, as for want of memory: the pool begins another.
        return { failure: failureOf(job.recording, error) };
      } finally {
        signal?.removeEventListener('abort', stop);
        port1.close();
      }
    },
    close: () => threads.destroy(),
  };
}

/** The worker beside this file: TypeScript in a checkout, compiled where critsheet is installed. */
function workerFile(): string {
  return fileURLToPath(new URL(isCheckout() ? './read-worker.ts' : './read-worker.js', import.meta.url));
}

function isCheckout(): boolean {
  return import.meta.url.endsWith('.ts');
}

/** In a checkout a thread needs the loader of TypeScript, whatever loaded this file. */
function workerArguments(): string[] {
  if (!isCheckout()) return [];
  const register = `import{register}from${JSON.stringify(import.meta.resolve('tsx/esm/api'))};register()`;
  return ['--import', `data:text/javascript,${encodeURIComponent(register)}`];
}
