import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { access, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Redis } from 'ioredis';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { doReadJob } from '../../src/batch/do-read-job.ts';
import { failureOf, type Outcome } from '../../src/batch/outcome.ts';
import type { ReadJob } from '../../src/batch/read-job.ts';
import { connect } from '../../src/queue/connection.ts';
import { statusOf } from '../../src/queue/status.ts';
import { openQueue, type ReadingQueue, submit } from '../../src/queue/submit.ts';
import { type WorkOptions, work } from '../../src/queue/work.ts';
import { critsheet, inFolder } from '../commands/run-command.ts';
import { hasRedis, RedisServer } from './redis-server.ts';

const WORDS = 'WEBVTT\n\n00:00:01.000 --> 00:00:03.000\nThe left heel is skating from ten to eighteen.\n';
const LOCK_MILLISECONDS = 3000;
/** On a machine that does much else besides. */
const PATIENCE = { timeout: 60_000 };

async function put(folder: string, name: string, text = WORDS): Promise<ReadJob> {
  await writeFile(join(folder, name), text);
  return { recording: join(folder, name), folder, formats: [] };
}

const isThere = (path: string): Promise<boolean> =>
  access(path).then(
    () => true,
    () => false,
  );

describe.skipIf(!hasRedis)('a queue on a real server', () => {
  let server: RedisServer;
  let connection: Redis;
  let queue: ReadingQueue;
  const ends: (() => Promise<unknown>)[] = [];
  /** What was read by this process, in order. */
  let read: string[] = [];

  beforeAll(async () => {
    // What is loaded on first use holds this thread for longer than a lock lasts here; real workers have threads of their own.
    await inFolder(async (root) => doReadJob(await put(root, 'first.vtt')));
    server = await RedisServer.start();
    connection = await connect(new URL(server.url), true);
    queue = openQueue(connection);
  });
  afterEach(async () => {
    for (const end of ends.splice(0)) await end();
    await queue.obliterate({ force: true });
    read = [];
  });
  afterAll(async () => {
    await queue.close();
    connection.disconnect();
    await server.end();
  });

  /** A worker that reads in this process, after `before`. */
  async function startWorker(
    root: string,
    before: (job: ReadJob) => Promise<Outcome | null> = async () => null,
    more: Partial<WorkOptions> = {},
  ): Promise<void> {
    const own = await connect(new URL(server.url), true);
    const worker = work({
      connection: own,
      root,
      lockMilliseconds: LOCK_MILLISECONDS,
      signal: new AbortController().signal,
      partDone: ({ done }) => done,
      pool: {
        size: 1,
        async run(job, watch) {
          const instead = await before(job);
          if (instead) return instead;
          read.push(job.recording);
          return doReadJob(job, watch).then(
            ({ result }) => ({ result }),
            (error: unknown) => ({ failure: failureOf(job.recording, error) }),
          );
        },
        close: async () => undefined,
      },
      ...more,
    });
    ends.push(async () => {
      await worker.close(true);
      own.disconnect();
    });
  }

  it('takes the same recording with the same settings once, and reads it once', () =>
    inFolder(async (root) => {
      const job = await put(root, 'take.vtt');
      expect(await submit(queue, job, root)).toBe('new');
      expect(await submit(queue, job, root)).toBe('waiting');
      expect(await submit(queue, { ...job, formats: ['csv'] }, root)).toBe('new');
      await startWorker(root);
      await expect.poll(async () => (await statusOf(queue)).done, PATIENCE).toBe(2);
      expect(read).toHaveLength(2);
      expect((await readdir(root)).sort()).toEqual([
        'take.sheet.csv',
        'take.sheet.json',
        'take.sheet.md',
        'take.vtt',
      ]);
      expect(await submit(queue, job, root)).toBe('done');
      // What was made is gone, or the recording is another: it is read again.
      await rm(join(root, 'take.sheet.json'));
      expect(await submit(queue, job, root)).toBe('again');
      await expect.poll(() => isThere(join(root, 'take.sheet.json')), PATIENCE).toBe(true);
      await put(root, 'take.vtt', WORDS.replace('left', 'right'));
      expect(await submit(queue, job, root)).toBe('new');
      await expect.poll(() => read.length, PATIENCE).toBe(4);
      // What was made of other content stays, as everywhere.
      await expect.poll(() => isThere(join(root, 'take.sheet.2.json')), PATIENCE).toBe(true);
      expect(await readFile(join(root, 'take.sheet.md'), 'utf8')).toContain('left heel');
      expect(await readFile(join(root, 'take.sheet.2.md'), 'utf8')).toContain('right heel');
    }));

  it('lists what failed for good with its reason, without trying it again, until it is submitted again', () =>
    inFolder(async (root) => {
      const job = await put(root, 'take.vtt', 'no captions');
      await submit(queue, job, root);
      let tries = 0;
      await startWorker(root, async () => {
        tries++;
        return null;
      });
      await expect
        .poll(async () => (await statusOf(queue)).failed, PATIENCE)
        .toEqual([{ recording: 'take.vtt', reason: expect.stringMatching(/^take\.vtt holds no captions/) }]);
      expect(tries).toBe(1);
      expect(await submit(queue, job, root)).toBe('again');
      await expect.poll(() => tries, PATIENCE).toBe(2);
    }));

  it('tries again, after a while, what failed by no fault of a person', () =>
    inFolder(async (root) => {
      await submit(queue, await put(root, 'take.vtt'), root);
      const told: [string, boolean][] = [];
      let tries = 0;
      const before = async (job: ReadJob): Promise<Outcome | null> =>
        ++tries > 1
          ? null
          : { failure: { recording: job.recording, message: 'out of memory', mistake: false } };
      await startWorker(root, before, { onFailed: (_, reason, again) => told.push([reason, again]) });
      await expect
        .poll(async () => (await statusOf(queue)).later, PATIENCE)
        .toEqual([{ recording: 'take.vtt', reason: 'out of memory' }]);
      expect(told).toEqual([['out of memory', true]]);
      await expect.poll(async () => (await statusOf(queue)).done, PATIENCE).toBe(1);
      expect(await isThere(join(root, 'take.sheet.json'))).toBe(true);
    }));

  it('refuses what is no job of critsheet, touches nothing, and goes on', () =>
    inFolder(async (root) => {
      const foreign = {
        schema: 'critsheet-job/1',
        sha256: 'ab'.repeat(32),
        job: { recording: '/etc/hostname', folder: '.' },
      };
      await queue.add('read', foreign as never, { jobId: 'foreign' });
      await queue.add('read', 'what is this' as never, { jobId: 'stranger' });
      await submit(queue, await put(root, 'take.vtt'), root);
      await startWorker(root);
      await expect.poll(async () => (await statusOf(queue)).done, PATIENCE).toBe(1);
      const { failed } = await statusOf(queue);
      expect(failed.map(({ reason }) => reason).sort()).toEqual([
        expect.stringMatching(/^The queue names "\/etc\/hostname", which leads out/),
        expect.stringMatching(/^What lies on the queue is no job/),
      ]);
      expect(read).toEqual([join(root, 'take.vtt')]);
    }));

  it('gives the job of a worker that was killed to another one', () =>
    inFolder(async (root) => {
      await submit(queue, await put(root, 'take.vtt'), root);
      const script = fileURLToPath(new URL('work-until-killed.ts', import.meta.url));
      const child = spawn(process.execPath, [
        '--import',
        import.meta.resolve('tsx'),
        script,
        server.url,
        root,
      ]);
      const closed = once(child, 'close');
      await once(child.stdout, 'data');
      await startWorker(root);
      expect(await isThere(join(root, 'take.sheet.json'))).toBe(false);
      child.kill('SIGKILL');
      await closed;
      await expect.poll(async () => (await statusOf(queue)).done, PATIENCE).toBe(1);
      expect(read).toEqual([join(root, 'take.vtt')]);
      expect(await isThere(join(root, 'take.sheet.json'))).toBe(true);
    }));

  it('loses nothing and does nothing twice when the server dies in the middle', () =>
    inFolder(async (root) => {
      const names = ['a.vtt', 'b.vtt', 'c.vtt'];
      for (const name of names) await submit(queue, await put(root, name), root);
      let dead = false;
      await startWorker(root, async () => {
        if (!dead) {
          dead = true;
          await server.kill();
        }
        return null;
      });
      await expect.poll(() => read.length, PATIENCE).toBe(1);
      // The sheet is made though the server is gone; long enough, that its lock has run out when it is back.
      await expect.poll(() => isThere(join(root, 'a.sheet.json')), PATIENCE).toBe(true);
      await new Promise((later) => setTimeout(later, 2 * LOCK_MILLISECONDS));
      await server.up();
      await expect.poll(async () => (await statusOf(queue)).done, PATIENCE).toBe(3);
      expect(read).toEqual(names.map((name) => join(root, name)));
      expect(await statusOf(queue)).toMatchObject({ waiting: 0, reading: [], later: [], failed: [] });
    }));

  it('is worked through by the commands, which tell of each recording', () =>
    inFolder(async (root) => {
      await put(root, 'take.vtt');
      await put(root, 'bad.vtt', 'no captions');
      const where = ['--queue', server.url, '--root', root];
      const submitted = await critsheet(['submit', join(root, 'take.vtt'), join(root, 'bad.vtt'), ...where]);
      expect(submitted).toMatchObject({ code: 0, err: '' });
      expect(submitted.out.match(/: submitted\.\n/g)).toHaveLength(2);
      const worked = await critsheet(['work', '--until-empty', '--at-once', '1', ...where]);
      expect(worked.code).toBe(0);
      expect(worked.out).toMatch(/^take\.vtt: 1 thing to change/m);
      expect(worked.err).toMatch(/^critsheet: bad\.vtt: not read\. bad\.vtt holds no captions/m);
      const status = await critsheet(['submit', '--status', '--queue', server.url]);
      expect(status.out).toMatch(
        /^0 recordings waiting, 0 being read, 0 to be tried again, 1 failed, 1 done\.\nfailed: bad\.vtt: bad\.vtt holds no captions.*\n$/,
      );
    }));

  it('takes back what was being read when a worker is stopped', () =>
    inFolder(async (root) => {
      await put(root, 'take.vtt');
      const where = ['--queue', server.url, '--root', root];
      await critsheet(['submit', join(root, 'take.vtt'), ...where]);
      const stop = new AbortController();
      await startWorker(
        root,
        (job) => {
          stop.abort();
          return new Promise((_, reject) => setTimeout(() => reject(new Error(job.recording)), 50));
        },
        { signal: stop.signal },
      );
      await expect.poll(() => stop.signal.aborted, PATIENCE).toBe(true);
      for (const end of ends.splice(0)) await end();
      expect(await statusOf(queue)).toMatchObject({ failed: [], later: [] });
      await startWorker(root);
      await expect.poll(async () => (await statusOf(queue)).done, PATIENCE).toBe(1);
    }));

  it('keeps a password to itself', async () => {
    const guarded = await RedisServer.start('secret-word');
    try {
      const right = await critsheet(['submit', '--status', '--queue', guarded.url]);
      expect(right).toMatchObject({ code: 0, err: '' });
      const wrong = await critsheet([
        'submit',
        '--status',
        '--queue',
        guarded.url.replace('secret-word', 'secret-guess'),
      ]);
      const none = await critsheet(['submit', '--status', '--queue', `redis://127.0.0.1:${guarded.port}`]);
      for (const { code, out, err } of [wrong, none]) {
        expect({ code, out }).toEqual({ code: 1, out: '' });
        expect(err).toMatch(
          /^critsheet: The queue server at redis:\/\/127\.0\.0\.1:\d+ wants another name or password: .*\n$/,
        );
        expect(err).not.toContain('secret');
      }
    } finally {
      await guarded.end();
    }
  });
});

describe('the commands of the queue without a server', () => {
  it.each([
    [['submit', '--status'], /A queue server is needed .* On one machine "critsheet read" needs none\./],
    [['work'], /A queue server is needed/],
    [['work', '--queue', 'redis://127.0.0.1:1'], /No queue server answers at redis:\/\/127\.0\.0\.1:1/],
    [['submit', '--status', '--queue', 'here'], /not the address of a queue server/],
    [
      ['work', '--queue', 'redis://127.0.0.1:1', '--root', '/nowhere/at/all'],
      /There is no folder \/nowhere\/at\/all/,
    ],
  ])('%j exit 1 with one sentence', async (args, said) => {
    const ran = await critsheet(args);
    expect(ran).toMatchObject({ code: 1, out: '' });
    expect(ran.err).toMatch(said);
    expect(ran.err).toMatch(/^critsheet: .*\.\n$/);
  });
});
