import { availableParallelism } from 'node:os';
import { resolve } from 'node:path';

export type Library = typeof import('@xenova/transformers');

/** More threads than this wait for each other on models of this size. */
const MOST_THREADS = 4;

/**
 * The transformers library, loaded on first use because that takes half a second, and closed to the network: it reads
 * local folders alone. `prepare` opens it for the one moment in which a person asked for a download.
 */
export async function loadLibrary(): Promise<Library> {
  const library = await import('@xenova/transformers');
  library.env.allowRemoteModels = false;
  library.env.allowLocalModels = true;
  library.env.logLevel = library.LogLevel.ERROR;
  return library;
}

/**
 * How the library is told of a model folder: its whole path, which it takes as it is. (Its `env.localModelPath` would be
 * put in front of a short name, but that is one setting for the whole process, and two models may load at once.)
 */
export function libraryId(folder: string): string {
  return resolve(folder);
}

let mostThreads = MOST_THREADS;

/** Gives each model opened from now on in this thread of the program no more than so many threads of its own. */
export function limitModelThreads(most: number): void {
  mostThreads = most;
}

/** Settings of onnxruntime that suit the small models here. */
export function sessionOptions(): { intraOpNumThreads: number; interOpNumThreads: number } {
  return { intraOpNumThreads: Math.min(mostThreads, availableParallelism()), interOpNumThreads: 1 };
}
