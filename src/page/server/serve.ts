import type { AddressInfo } from 'node:net';
import { serve } from '@hono/node-server';
import type { Session } from '../session.ts';
import type { FoundRecording } from '../sound/find-recording.ts';
import { newKey } from './guard.ts';
import { routes } from './routes.ts';
import { Viewers } from './viewers.ts';

export interface Served {
  /** The address to open, once; it holds the key. */
  readonly address: string;
  /** Is fulfilled when the page was closed, a person finished, or the signal came. */
  readonly ended: Promise<void>;
}

/**
 * Serves the checking page on this machine alone, on a port that is free.
 *
 * @param sound The recording, which may still be read while the page is open.
 */
export async function serveCheck(
  session: Session,
  sound: Promise<FoundRecording>,
  signal: AbortSignal,
): Promise<Served> {
  let end: () => void = () => undefined;
  const ended = new Promise<void>((resolve) => {
    end = resolve;
  });
  const { revision, decisions } = session.now();
  const viewers = new Viewers(() => end(), revision, decisions.length);
  const key = newKey();
  let port = 0;
  const app = routes({ session, key, port: () => port, sound, viewers, stop: () => end() });
  const server = serve({ fetch: app.fetch, hostname: '127.0.0.1', port: 0 });
  await new Promise<void>((resolve, reject) => {
    server.once('listening', resolve);
    server.once('error', reject);
  });
  port = portOf(server.address());
  signal.addEventListener('abort', () => end(), { once: true });
  if (signal.aborted) end();
  const closed = ended.then(async () => {
    viewers.end();
    await new Promise<void>((resolve) => {
      server.close(() => resolve());
      // What has been told may still reach the page; nothing waits longer than that.
      setTimeout(() => 'closeAllConnections' in server && server.closeAllConnections(), 200);
    });
  });
  return { address: `http://127.0.0.1:${port}/?key=${key.text}`, ended: closed };
}

function portOf(address: AddressInfo | string | null): number {
  if (typeof address !== 'object' || address === null) throw new Error('the server has no port');
  return address.port;
}
