import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { getRequestListener } from '@hono/node-server';
import { serveStatic } from '@hono/node-server/serve-static';
import { Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { Problem } from '../base/problem.js';
import { ofProgram } from '../files/of-program.js';
import type { Bench } from './bench.js';
import { keepTo } from './connections.js';
import { type Door, guard, SAFE_HEADERS } from './guard.js';
import { aboutRoutes } from './routes/about.js';
import { aliveRoutes } from './routes/alive.js';
import { bringInRoutes } from './routes/bring-in.js';
import { cameraRoutes } from './routes/camera.js';
import { clipRoutes } from './routes/clips.js';
import { diagnoseRoutes } from './routes/diagnose.js';
import { differenceRoutes } from './routes/differences.js';
import { eveningRoutes } from './routes/evening.js';
import { evidenceRoutes } from './routes/evidence.js';
import { fitRoutes } from './routes/fit.js';
import { labelRoutes } from './routes/labels.js';
import { maskingRoutes } from './routes/masking.js';
import { pictureRoutes } from './routes/pictures.js';
import { planRoutes } from './routes/plan.js';
import { saveRoutes } from './routes/save.js';
import { tuneRoutes } from './routes/tune.js';
import { withinRoutes } from './routes/within.js';
import { workspaceRoutes } from './routes/workspace.js';
import { problemTold } from './streamed.js';
import { Turns } from './turns.js';

/** This machine, and nobody else. */
const HOST = '127.0.0.1';
/** The page as built, beside the built server. */
const PAGE = fileURLToPath(new URL('../workbench/page/', import.meta.url));
/** Labels of the busiest day are a tenth of it. */
const MOST_BODY = 8 * 2 ** 20;
/** A browser opens some six to one server. */
const MOST_CONNECTIONS = 128;
/** For a request to arrive: its head, and all of it. Answers may take as long as they take. */
const PATIENCE: Patience = { headMs: 10_000, wholeMs: 60_000 };

export interface Patience {
  headMs: number;
  wholeMs: number;
}

export interface Serving {
  /** With the secret in it: whoever has it may use the server. */
  address: string;
  close(): Promise<void>;
}

/**
 * Serves the workbench to this machine alone until it is closed.
 * @param given what is served; turns are the server's own
 * @param door port 0: any that is free
 * @param page the folder of the page as built
 * @throws Problem 'incomplete' where that is not there: a browser would show an empty address
 */
export async function serveWorkbench(
  given: Omit<Bench, 'turns'>,
  { port, secret }: Door,
  page = PAGE,
  patience = PATIENCE,
): Promise<Serving> {
  ofProgram(join(page, 'index.html'));
  const bench = { ...given, turns: new Turns() };
  const app = appOf(bench, secret, page, () => (server.address() as AddressInfo).port);
  const answer = getRequestListener(app.fetch, { hostname: HOST, errorHandler: unreadable });
  const server = createServer(
    {
      headersTimeout: patience.headMs,
      requestTimeout: patience.wholeMs,
      connectionsCheckingInterval: patience.headMs / 4,
    },
    (request, response) => {
      // Here, so that no answer is without them, whoever gives it.
      for (const [name, value] of Object.entries(SAFE_HEADERS)) response.setHeader(name, value);
      void answer(request, response);
    },
  );
  keepTo(MOST_CONNECTIONS, server);
  server.listen(port, HOST);
  await new Promise<void>((done, fail) => {
    server.once('listening', done);
    server.once('error', fail);
  });
  return {
    address: `http://${HOST}:${(server.address() as AddressInfo).port}/${secret}/`,
    close: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}

/** A request whose address or host is none. */
function unreadable(): Response {
  return Response.json({ code: 'refused', message: 'expected a request of the page' }, { status: 400 });
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
    // Given up by the page: nobody reads the answer, and nothing is wrong.
    if (c.req.raw.signal.aborted) return c.body(null, 408);
    const told = problemTold(isTooDeep(error) ? TOO_DEEP : error);
    return c.json(told, told.code === 'fault' ? 500 : 400);
  });
  app.notFound((c) => c.json({ code: 'refused', message: 'there is nothing at this address' }, 404));
  const api = new Hono();
  for (const routes of [
    aliveRoutes,
    workspaceRoutes,
    clipRoutes,
    aboutRoutes,
    labelRoutes,
    pictureRoutes,
    evidenceRoutes,
    withinRoutes,
    differenceRoutes,
    tuneRoutes,
    saveRoutes,
    bringInRoutes,
    cameraRoutes,
    diagnoseRoutes,
    maskingRoutes,
    eveningRoutes,
    fitRoutes,
    planRoutes,
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

const TOO_DEEP = new Problem('bad-field', 'what was sent is nested too deeply; expected a few levels');

/** JSON that is read without fail may still be too deep for what looks through it. */
function isTooDeep(error: unknown): boolean {
  return error instanceof RangeError && /call stack/.test(error.message);
}
