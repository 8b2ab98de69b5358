import { type Command, Option } from 'commander';
import { PersonError } from '../basics/problem.ts';

/** Where the queue is, and what the machines share. */
export interface QueueArguments {
  readonly queue?: string;
  readonly root: string;
}

export function addQueueOptions(command: Command): Command {
  return command
    .addOption(
      new Option('--queue <url>', 'the queue server: redis://HOST:PORT, or rediss:// for TLS').env(
        'CRITSHEET_QUEUE',
      ),
    )
    .option(
      '--root <folder>',
      'the folder that all machines share, as this one sees it: recordings and sheets lie in it (default: the working folder)',
      '.',
    );
}

/** The address of the queue server. @throws PersonError where none is given, or it can be none. */
export async function queueUrlOf({ queue }: QueueArguments): Promise<URL> {
  if (queue === undefined) {
    throw new PersonError(
      'A queue server is needed to share work between machines: give its address with --queue redis://HOST:PORT, or in CRITSHEET_QUEUE. On one machine "critsheet read" needs none.',
    );
  }
  const { queueUrl } = await import('../queue/connection.ts');
  return queueUrl(queue);
}
