import type { Command } from 'commander';
import { messageOf, PersonError } from '../basics/problem.ts';
import type { QueueStatus } from '../queue/status.ts';
import type { ReadingQueue, Submitted } from '../queue/submit.ts';
import { counted } from '../sheet/counted.ts';
import { addQueueOptions, type QueueArguments, queueUrlOf } from './queue-options.ts';
import { addWhatIsMade, type HowToRead, jobOf } from './read-arguments.ts';
import type { Screen, Surroundings } from './screen.ts';

interface SubmitArguments extends HowToRead, QueueArguments {
  readonly status?: true;
}

/** `critsheet submit`: readings for other machines. */
export function addSubmit(program: Command, surroundings: Surroundings): void {
  const command = program
    .command('submit')
    .summary('put recordings on a queue, for other machines to read')
    .description(
      'Puts recordings on the queue that machines with "critsheet work" share. The same recording with the same settings is queued once; what failed, or whose files are gone, is tried again.',
    )
    .argument('[recordings...]', 'files, folders, or patterns ("week 3/*.wav")');
  addQueueOptions(command).option('--status', 'say what lies on the queue, and what failed for good and why');
  addWhatIsMade(command)
    .option('--verbose', 'say more, and show the stack of an error')
    .action((recordings: string[], options: SubmitArguments) => {
      if (recordings.length === 0 && !options.status)
        command.error("error: missing required argument 'recordings'");
      return submit(recordings, options, surroundings);
    });
}

const SAYS: Readonly<Record<Submitted, string>> = {
  new: 'submitted.',
  again: 'submitted again.',
  waiting: 'is on the queue already.',
  done: 'was read already.',
};

async function submit(
  recordings: readonly string[],
  options: SubmitArguments,
  { screen }: Surroundings,
): Promise<void> {
  const url = await queueUrlOf(options);
  const { connect, shownUrl } = await import('../queue/connection.ts');
  const { openQueue } = await import('../queue/submit.ts');
  const connection = await connect(url, false);
  const queue = openQueue(connection);
  try {
    if (recordings.length > 0) await submitEach(queue, recordings, options, screen);
    if (options.status) await tellStatus(queue, screen);
  } catch (error) {
    if (connection.status === 'ready' || error instanceof PersonError) throw error;
    throw new PersonError(
      `The queue server at ${shownUrl(url)} went away (${messageOf(error)}): submit again when it is back; what is on the queue is kept.`,
    );
  } finally {
    connection.disconnect();
    await queue.close().catch(() => undefined);
  }
}

async function submitEach(
  queue: ReadingQueue,
  recordings: readonly string[],
  options: SubmitArguments,
  screen: Screen,
): Promise<void> {
  const { findRecordings } = await import('../batch/find-recordings.ts');
  const { beforeReading } = await import('../batch/before-reading.ts');
  const { submit: put } = await import('../queue/submit.ts');
  const found = await findRecordings(recordings, options.nested === true);
  for (const recording of found.recordings) {
    const job = await jobOf(recording, options);
    await beforeReading({ inputs: [recording, job.shotFile], model: job.model, folder: job.folder });
    screen.print(`${recording}: ${SAYS[await put(queue, job, options.root)]}`);
  }
}

async function tellStatus(queue: ReadingQueue, screen: Screen): Promise<void> {
  const { statusOf } = await import('../queue/status.ts');
  screen.print(statusText(await statusOf(queue)));
}

function statusText({ waiting, done, reading, later, failed }: QueueStatus): string {
  return [
    `${counted(waiting, 'recording')} waiting, ${reading.length} being read, ${later.length} to be tried again, ${failed.length} failed, ${done} done.`,
    ...reading.map((one) => `being read: ${one.recording}, ${Math.floor(100 * one.done)} %`),
    ...later.map((one) => `to be tried again: ${one.recording}: ${one.reason}`),
    ...failed.map((one) => `failed: ${one.recording}: ${one.reason}`),
  ].join('\n');
}
