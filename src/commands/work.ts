import { setTimeout } from 'node:timers/promises';
import type { Command } from 'commander';
import type { ReadingQueue } from '../queue/submit.ts';
import { addQueueOptions, type QueueArguments, queueUrlOf } from './queue-options.ts';
import { addAtOnce } from './read-arguments.ts';
import type { Surroundings } from './screen.ts';
import { partDone } from './show-progress.ts';

interface WorkArguments extends QueueArguments {
  readonly atOnce?: number;
  readonly untilEmpty?: true;
  readonly verbose?: true;
}

/** How often the queue is looked at to see whether it is empty. */
const LOOK_MILLISECONDS = 500;

/** `critsheet work`: reads what other machines submitted. */
export function addWork(program: Command, surroundings: Surroundings): void {
  const command = program
    .command('work')
    .summary('read what lies on a queue')
    .description(
      'Reads the recordings that "critsheet submit" put on a queue, as many machines at once as you like. The sheets go where the one who submitted wants them. Runs until Ctrl-C; what is being read then goes back to the queue.',
    );
  addAtOnce(addQueueOptions(command))
    .option('--until-empty', 'end when nothing is left to do')
    .option('--verbose', 'say more, and show the stack of an error')
    .action((options: WorkArguments) => work(options, surroundings));
}

async function work(options: WorkArguments, { screen, signal }: Surroundings): Promise<void> {
  const url = await queueUrlOf(options);
  const { connect, shownUrl } = await import('../queue/connection.ts');
  const { realRoot } = await import('../queue/root.ts');
  const { openPool } = await import('../batch/pool.ts');
  const { openQueue } = await import('../queue/submit.ts');
  const { work: begin } = await import('../queue/work.ts');
  await realRoot(options.root);
  const connection = await connect(url, true);
  const pool = openPool(options.atOnce);
  connection.on('close', () => {
    if (!signal.aborted)
      screen.tell(`critsheet: the queue server at ${shownUrl(url)} went away; waiting for it to come back.`);
  });
  connection.on('ready', () => screen.tell(`critsheet: the queue server at ${shownUrl(url)} is back.`));
  const queue = openQueue(connection);
  const worker = begin({
    connection,
    pool,
    root: options.root,
    signal,
    partDone,
    onBegin: (recording) => {
      if (options.verbose) screen.tell(`critsheet: ${recording}: begun.`);
    },
    onDone: (recording, result) => {
      for (const notice of result?.notices ?? []) screen.tell(`critsheet: ${recording}: ${notice}`);
      screen.print(`${recording}: ${result?.summary ?? 'has its sheet already.'}`);
    },
    onFailed: (recording, reason, again) =>
      screen.tell(`critsheet: ${recording}: not read${again ? ', and will be tried again' : ''}. ${reason}`),
  });
  screen.tell(`critsheet: working for ${shownUrl(url)}; Ctrl-C ends it.`);
  try {
    await untilEnd(queue, options.untilEmpty === true, signal);
  } finally {
    connection.removeAllListeners('close');
    await worker.close(connection.status !== 'ready');
    await queue.close();
    connection.disconnect();
    await pool.close();
  }
}

async function untilEnd(queue: ReadingQueue, untilEmpty: boolean, signal: AbortSignal): Promise<void> {
  while (!signal.aborted) {
    if (untilEmpty) {
      const counts = await queue.getJobCounts('waiting', 'active', 'delayed');
      if (Object.values(counts).every((count) => count === 0)) return;
    }
    await setTimeout(LOOK_MILLISECONDS, undefined, { signal }).catch(() => undefined);
  }
}
