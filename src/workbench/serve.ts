import { randomBytes } from 'node:crypto';
import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { fileURLToPath } from 'node:url';
import { serve } from '@hono/node-server';
import { serveStatic } from '@hono/node-server/serve-static';
import { Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { Problem } from '../base/problem.js';
import type { Bench } from './bench.js';
import { guard } from './guard.js';
import { bringInRoutes } from './routes/bring-in.js';
import { cameraRoutes } from './routes/camera.js';
import { clipRoutes } from './routes/clips.js';
import { diagnoseRoutes } from './routes/diagnose.js';
import { differenceRoutes } from './routes/differences.js';
import { evidenceRoutes } from './routes/evidence.js';
import { labelRoutes } from './routes/labels.js';
import { maskingRoutes } from './routes/masking.js';
import { pictureRoutes } from './routes/pictures.js';
import { workspaceRoutes } from './routes/workspace.js';
import { problemTold } from './streamed.js';

/** The page as built, beside the built server. */
const PAGE = fileURLToPath(new URL('./page/', import.meta.url));
/** Labels of the busiest day are a tenth of it. */
const MOST_BODY = 8 * 2 ** 20;
/** A browser opens some six to one server; the rest wait. */
const MOST_CONNECTIONS = 128;
/** For a request to arrive in full; answers may take as long as they take. */
const PATIENCE_MS = 60_000;

export interface Serving {
  /** With the secret in it: whoever has it may use the server. */
  address: string;
  close(): Promise<void>;
}

/**
 * Serves the workbench to this machine alone until it is closed.
 * @param port 0: any that is free
 * @param page the folder of the page as built
 */
export async function serveWorkbench(bench: Bench, port = 0, page = PAGE): Promise<Serving> {
  const secret = randomBytes(24).toString('base64url');
  const app = appOf(bench, secret, page, () => (server.address() as AddressInfo).port);
  const server = serve({ fetch: app.fetch, hostname: '127.0.0.1', port }) as Server;
  server.maxConnections = MOST_CONNECTIONS;
  server.requestTimeout = PATIENCE_MS;
  await new Promise<void>((done, fail) => {
    server.once('listening', done);
    server.once('error', fail);
  });
  return {
    address: `http://127.0.0.1:${(server.address() as AddressInfo).port}/${secret}/`,
    close: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}

function appOf(bench: Bench, secret: string, page: string, port: () => number): Hono {
  const app = new Hono();
  app.use(guard(secret, port));
  app.use(
    bodyLimit({
      maxSize: MOST_BODY,
      onError: (c) =>
        c.json({ code: 'refused', message: `expected at most ${MOST_BODY} bytes at once; send less` }, 413),
    }),
  );
  app.onError((error, c) => {
    const told = problemTold(error);
    return c.json(told, error instanceof Problem ? 400 : 500);
  });
  app.notFound((c) => c.json({ code: 'refused', message: 'there is nothing at this address' }, 404));
  const api = new Hono();
  for (const routes of [
    workspaceRoutes,
    clipRoutes,
    labelRoutes,
    pictureRoutes,
    evidenceRoutes,
    differenceRoutes,
    bringInRoutes,
    cameraRoutes,
    diagnoseRoutes,
    maskingRoutes,
  ]) {
    api.route('/', routes(bench));
  }
  app.route(`/${secret}/api`, api);
  app.get(
    `/${secret}/*`,
    serveStatic({ root: page, rewriteRequestPath: (path) => path.slice(secret.length + 1) }),
  );
  return app;
}
