import type { ReadJob } from '../batch/read-job.ts';
import { counted } from '../sheet/counted.ts';
import { STOPPED } from './exit-codes.ts';
import { startBar } from './progress-bar.ts';
import { type HowToRead, jobOf } from './read-arguments.ts';
import { Ended, type Surroundings } from './screen.ts';
import { partDone } from './show-progress.ts';
import { Outcomes } from './tell-outcomes.ts';

interface EachArguments extends HowToRead {
  readonly onlyNew?: true;
}

/** Reads many recordings by worker threads, a line for each as it is done. @throws Ended where one failed. */
export async function readEach(
  recordings: readonly string[],
  options: EachArguments,
  { screen, signal }: Surroundings,
): Promise<void> {
  const jobs: ReadJob[] = [];
  for (const recording of recordings) jobs.push(await jobOf(recording, options));
  const { openPool } = await import('../batch/pool.ts');
  const { readMany } = await import('../batch/read-many.ts');
  const outcomes = new Outcomes(screen, options.verbose === true);
  const pool = openPool(options.atOnce);
  const done = new Map<ReadJob, number>();
  let ended = 0;
  const says = () => `${ended} of ${counted(jobs.length, 'recording')} done`;
  let bar = startBar(screen, false, says());
  const show = () => bar.show(says(), [...done.values()].reduce((sum, one) => sum + one, 0) / jobs.length);
  try {
    await readMany(jobs, pool, {
      onlyNew: options.onlyNew === true,
      signal,
      onProgress: (job, progress) => {
        done.set(job, partDone(progress));
        show();
      },
      onEnd: (job, outcome) => {
        done.set(job, 1);
        ended++;
        // The line takes the place of the bar, which goes on below it.
        bar.stop();
        outcomes.tell(job.recording, outcome);
        bar = startBar(screen, false, says());
        show();
      },
    });
  } catch (error) {
    if (!signal.aborted) throw error;
    throw new Ended(`stopped; ${outcomes.read} of ${counted(jobs.length, 'recording')} were read.`, STOPPED);
  } finally {
    bar.stop();
    await pool.close();
  }
  outcomes.close();
}
