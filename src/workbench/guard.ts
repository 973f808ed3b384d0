import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import type { MiddlewareHandler } from 'hono';

/**
 * Nothing from outside: no script, picture or address but this server's own. Pictures may also be data or blobs, which the
 * page makes itself.
 */
const PAGE_POLICY =
  "default-src 'none'; script-src 'self'; worker-src 'self'; style-src 'self'; img-src 'self' data: blob:; media-src 'self' blob:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/** On every answer; a route may say otherwise for itself. */
export const SAFE_HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': PAGE_POLICY,
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cache-Control': 'no-store',
};

/** By which way a page comes in: http://127.0.0.1:PORT/SECRET/. */
export interface Door {
  port: number;
  secret: string;
}

export function newSecret(): string {
  return randomBytes(24).toString('base64url');
}

/**
 * Lets through only what comes from a page of this server that knows the secret: other hosts' names for this address are
 * refused (a foreign page could point one here), other pages' requests too, and whoever does not know the secret finds
 * nothing at all.
 * @param port on which this server listens; asked for at each request, for it is known only then
 */
export function guard(secret: string, port: () => number): MiddlewareHandler {
  return async (c, next) => {
    const hosts = [`127.0.0.1:${port()}`, `localhost:${port()}`];
    const host = c.req.header('host');
    const origin = c.req.header('origin');
    const site = c.req.header('sec-fetch-site');
    const refused =
      host === undefined || !hosts.includes(host)
        ? 'this server answers to 127.0.0.1 only'
        : origin !== undefined && !hosts.some((own) => origin === `http://${own}`)
          ? 'this server answers to its own page only'
          : site !== undefined && site !== 'same-origin' && site !== 'none'
            ? 'this server answers to its own page only'
            : null;
    if (refused !== null) return c.json({ code: 'refused', message: refused }, 403);
    const [, given = ''] = c.req.path.split('/');
    if (!sameSecret(given, secret)) {
      return c.json({ code: 'refused', message: 'open the address that perchmark printed' }, 404);
    }
    return next();
  };
}

/** Takes as long whatever differs. */
function sameSecret(given: string, secret: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(given), digest(secret));
}
