import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { serveCheck } from '../../src/page/server/serve.ts';
import { openSession } from '../../src/page/session.ts';
import { talk } from '../corrections/sheet-of.ts';
import { putSheet } from './pages.ts';

let folder: string;
let sheetPath: string;
let address: URL;
let cookie: string;
let ended: Promise<void>;
const stop = new AbortController();

/** A request as anybody could send it: nothing tidies its path or its headers. */
function ask(
  path: string,
  {
    method = 'GET',
    headers = {},
    body = '',
  }: { method?: string; headers?: Record<string, string>; body?: string } = {},
): Promise<{ status: number; text: string; cookie: string; headers: NodeJS.Dict<string | string[]> }> {
  return new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port: address.port, path, method, headers }, (answer) => {
      let text = '';
      answer.setEncoding('utf8').on('data', (piece: string) => {
        text += piece;
      });
      answer.on('end', () =>
        resolve({
          status: answer.statusCode ?? 0,
          text,
          cookie: (answer.headers['set-cookie']?.[0] ?? '').split(';')[0] ?? '',
          headers: answer.headers,
        }),
      );
    });
    asked.on('error', reject);
    asked.end(body);
  });
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'critsheet-test-'));
  sheetPath = await putSheet(folder, talk(), false);
  const session = await openSession(sheetPath);
  const served = await serveCheck(session, Promise.resolve({ why: 'no sound' }), stop.signal);
  address = new URL(served.address);
  ended = served.ended;
});
afterAll(async () => {
  stop.abort();
  await ended;
  await rm(folder, { recursive: true, force: true });
});

describe('the checking page’s server', () => {
  it('listens on this machine alone, under an address that cannot be guessed', () => {
    expect(address.hostname).toBe('127.0.0.1');
    expect(address.searchParams.get('key')?.length).toBeGreaterThanOrEqual(32);
  });

  it.each([
    '/',
    '/state',
    '/script.js',
    '/style.css',
    '/sound?from=0&to=1',
    '/events',
    '/?key=',
    '/?key=wrong',
  ])('refuses %s to whoever has no key, and tells nothing of the sheet', async (path) => {
    const { status, text } = await ask(path);
    expect(status).toBe(403);
    expect(text).not.toContain('knee');
  });

  it('takes the key once', async () => {
    const first = await ask(`/${address.search}`);
    expect(first.status).toBe(303);
    expect(first.headers['set-cookie']?.[0]).toMatch(/HttpOnly.*SameSite=Strict|SameSite=Strict.*HttpOnly/);
    cookie = first.cookie;
    expect((await ask(`/${address.search}`)).status).toBe(403);
    expect((await ask('/state', { headers: { cookie } })).status).toBe(200);
    expect((await ask('/', { headers: { cookie } })).headers['content-security-policy']).toContain(
      "default-src 'none'",
    );
  });

  it.each([
    ['another origin', { origin: 'http://evil.example' }],
    ['the same machine under another port', { origin: 'http://127.0.0.1:1' }],
    ['a page that another site opened', { 'sec-fetch-site': 'cross-site' }],
    ['another port of this machine', { 'sec-fetch-site': 'same-site' }],
    ['a name that somebody bound to this address', { host: 'evil.example' }],
    ['this machine by another name', { host: 'localhost' }],
  ])('refuses a request from %s, even with the cookie', async (_, headers) => {
    expect((await ask('/state', { headers: { cookie, ...headers } })).status).toBe(403);
  });

  it('refuses to change anything for a request that does not say where it comes from', async () => {
    const body = JSON.stringify({
      seen: 0,
      decisions: [{ id: 'abcdefgh', at: '', do: 'undo', decision: 'x' }],
    });
    const headers = { cookie, 'content-type': 'application/json' };
    expect((await ask('/decisions', { method: 'POST', headers, body })).status).toBe(403);
    expect((await ask('/stop', { method: 'POST', headers })).status).toBe(403);
    expect((await ask('/state', { headers })).status).toBe(200);
  });

  it.each([
    '/../../../etc/passwd',
    '/..%2f..%2fetc%2fpasswd',
    '/%2e%2e/%2e%2e/talk.sheet.json',
    '//etc/passwd',
    '/talk.sheet.json',
    '/view/../session.ts',
    '/script.js/../../package.json',
    '/state%00.json',
    '/sound?from=../../etc&to=passwd',
    '/sound?from=0&to=1e9',
    '/sound',
  ])('gives no file for %s', async (path) => {
    const { status, text } = await ask(path, { headers: { cookie } });
    expect([400, 404]).toContain(status);
    expect(text).not.toMatch(/root:|critsheet\/1|import/);
  });

  it('refuses what are no decisions, and what is too large, and saves nothing', async () => {
    const origin = `http://127.0.0.1:${address.port}`;
    const headers = { cookie, origin, 'content-type': 'application/json' };
    const post = (body: string) => ask('/decisions', { method: 'POST', headers, body });
    const before = await readFile(sheetPath, 'utf8');
    const bad = [
      '',
      '[]',
      '{"seen": 0, "decisions": []}',
      '{"seen": 0, "decisions": [{"id": "abcdefgh", "at": "", "do": "run"}]}',
    ];
    for (const body of bad) expect((await post(body)).status).toBe(400);
    const long = 'x'.repeat(2_000_000);
    expect(
      (
        await ask('/decisions', {
          method: 'POST',
          headers: { ...headers, 'content-length': String(long.length) },
          body: long,
        })
      ).status,
    ).toBe(413);
    expect(await readFile(sheetPath, 'utf8')).toBe(before);
  });
});
