import type { ReadJob } from '../batch/read-job.ts';
import { SHEET_AND_TRANSCRIPT_WRITERS } from '../sheet/writers/writers.ts';
import type { ReadingArguments } from './reading-arguments.ts';
import type { Surroundings } from './screen.ts';

/** Reads one recording in this process, and tells what came of it. */
export async function readOne(
  job: ReadJob,
  { json, verbose }: ReadingArguments,
  { screen, signal }: Surroundings,
): Promise<void> {
  const { showProgress } = await import('./show-progress.ts');
  const progress = showProgress(screen, verbose === true);
  const work = async () => {
    const { doReadJob } = await import('../batch/do-read-job.ts');
    return doReadJob(job, { signal, onProgress: progress.onProgress });
  };
  const { sheet, result } = await work().finally(progress.stop);
  progress.tellTimes();
  for (const notice of result.notices) screen.tell(`critsheet: ${notice}`);
  if (json) screen.print(SHEET_AND_TRANSCRIPT_WRITERS.json?.write(sheet).trimEnd() ?? '');
  else screen.print([result.summary, ...result.written.map((path) => `written: ${path}`)].join('\n'));
}
