import { randomBytes } from 'node:crypto';
import { Hono } from 'hono';
import type { Alive } from '../protocol.js';

/** Whether the server answers, and whether it is still the one that the page came from. */
export function aliveRoutes(): Hono {
  const alive: Alive = { started: randomBytes(9).toString('base64url') };
  return new Hono().get('/alive', (c) => c.json(alive));
}
