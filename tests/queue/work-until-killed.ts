import { connect } from '../../src/queue/connection.ts';
import { work } from '../../src/queue/work.ts';

// A worker that takes a job, tells of it, and never ends it.
const [, , url = '', root = ''] = process.argv;
work({
  connection: await connect(new URL(url), true),
  root,
  lockMilliseconds: 2000,
  signal: new AbortController().signal,
  partDone: () => 0,
  pool: {
    size: 1,
    run: () => new Promise(() => process.stdout.write('begun\n')),
    close: async () => undefined,
  },
});
