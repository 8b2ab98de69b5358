import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { Redis } from 'ioredis';

/** Whether the real server is on this machine. Where it is not, what needs it is skipped, and that is said. */
export const hasRedis = spawnSync('redis-server', ['--version']).status === 0;
if (!hasRedis) {
  process.stderr.write(
    'redis-server is not on the PATH: the tests of the queue with a real server are skipped.\n',
  );
}

/** A real server of the test's own, on this machine alone, with what it keeps in a folder that is gone afterwards. */
export class RedisServer {
  readonly port: number;
  readonly #folder = mkdtempSync(join(tmpdir(), 'critsheet-redis-'));
  readonly #password: string;
  #process: ChildProcess | null = null;

  private constructor(port: number, password: string) {
    this.port = port;
    this.#password = password;
  }

  static async start(password = ''): Promise<RedisServer> {
    const server = new RedisServer(await freePort(), password);
    await server.up();
    return server;
  }

  get url(): string {
    return `redis://${this.#password ? `:${this.#password}@` : ''}127.0.0.1:${this.port}`;
  }

  /** Starts it, with what it knew when it went down. */
  async up(): Promise<void> {
    this.#process = spawn(
      'redis-server',
      [
        ...['--port', `${this.port}`, '--bind', '127.0.0.1', '--dir', this.#folder],
        ...['--appendonly', 'yes', '--appendfsync', 'always', '--save', ''],
        ...(this.#password ? ['--requirepass', this.#password] : []),
      ],
      { stdio: 'ignore' },
    );
    for (let tries = 0; ; tries++) {
      const answered = await this.#answers();
      if (answered) return;
      if (tries > 100) throw new Error('redis-server does not start');
      await setTimeout(100);
    }
  }

  /** Kills it as a power cut would. */
  async kill(): Promise<void> {
    const running = this.#process;
    this.#process = null;
    if (!running || running.exitCode !== null) return;
    const gone = once(running, 'exit');
    running.kill('SIGKILL');
    await gone;
  }

  async end(): Promise<void> {
    await this.kill();
    rmSync(this.#folder, { recursive: true, force: true });
  }

  async #answers(): Promise<boolean> {
    const client = new Redis(this.url, { lazyConnect: true, retryStrategy: () => null });
    client.on('error', () => undefined);
    try {
      await client.connect();
      await client.ping();
      return true;
    } catch {
      return false;
    } finally {
      client.disconnect();
    }
  }
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const address = server.address();
      server.close(() => resolve(typeof address === 'object' && address ? address.port : 0));
    });
  });
}
