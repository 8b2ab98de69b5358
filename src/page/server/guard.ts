import { randomBytes, timingSafeEqual } from 'node:crypto';
import type { MiddlewareHandler } from 'hono';
import { getCookie, setCookie } from 'hono/cookie';

/** Nothing but this server's own script, style, sound and answers. */
const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "connect-src 'self'",
  "media-src 'self'",
  "img-src 'self' data:",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

const HEADERS = {
  'Content-Security-Policy': POLICY,
  'X-Content-Type-Options': 'nosniff',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cache-Control': 'no-store',
};

const REFUSED =
  'This page belongs to a person at this machine. Open it by the address that "critsheet check" printed; each address opens it once.\n';

/** The key in the address that opens the page, once. */
export interface Key {
  readonly text: string;
  used: boolean;
}

export function newKey(): Key {
  return { text: randomBytes(24).toString('base64url'), used: false };
}

/**
 * Lets in only whoever opened the page by its key: the first request that brings it gets a cookie, and every other
 * request must bring that. Requests that name another host (a name bound to this address by somebody else) or come from
 * another origin are refused before anything is looked at.
 */
export function guard(key: Key, port: () => number): MiddlewareHandler {
  const session = randomBytes(32).toString('base64url');
  return async (context, next) => {
    const { req } = context;
    for (const [name, value] of Object.entries(HEADERS)) context.header(name, value);
    const host = `127.0.0.1:${port()}`;
    const origin = req.header('origin');
    const site = req.header('sec-fetch-site');
    const isForeign =
      req.header('host') !== host ||
      (origin !== undefined && origin !== `http://${host}`) ||
      (site !== undefined && site !== 'same-origin' && site !== 'none');
    if (isForeign) return context.text(REFUSED, 403);
    const changes = req.method !== 'GET' && req.method !== 'HEAD';
    if (changes && origin !== `http://${host}`) return context.text(REFUSED, 403);
    // Cookies know no ports: another page of this kind on this machine must not take this one's place.
    const name = `critsheet-${port()}`;
    if (isEqual(getCookie(context, name), session)) return next();
    const brought = req.path === '/' && req.method === 'GET' ? req.query('key') : undefined;
    if (key.used || !isEqual(brought, key.text)) return context.text(REFUSED, 403);
    key.used = true;
    setCookie(context, name, session, { httpOnly: true, sameSite: 'Strict', path: '/' });
    return context.redirect('/', 303);
  };
}

function isEqual(given: string | undefined, wanted: string): boolean {
  if (given === undefined) return false;
  const [a, b] = [Buffer.from(given), Buffer.from(wanted)];
  return a.length === b.length && timingSafeEqual(a, b);
}
