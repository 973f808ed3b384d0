import type { Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { connect } from 'node:net';
import { serve } from '@hono/node-server';
import { expect, it, onTestFinished, vi } from 'vitest';
import { Problem } from '../../src/base/problem.js';
import type { OpenPorts } from '../../src/jobs/ports.js';
import { Cache } from '../../src/store/cache.js';
import { streamed } from '../../src/workbench/streamed.js';
import { linesOf } from '../support/asked.js';
import { scratch } from '../support/workbench.js';

/** Serves one streamed job. */
async function serving<T>(
  job: (ports: OpenPorts, tell: (part: unknown) => void) => Promise<T>,
): Promise<number> {
  const server = serve({
    fetch: () => streamed(new Cache(scratch()), job),
    hostname: '127.0.0.1',
    port: 0,
  }) as Server;
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
  });
  await new Promise((done) => server.once('listening', done));
  return (server.address() as AddressInfo).port;
}

it('tells how it goes, a line each, and at last the result', async () => {
  const port = await serving(async ({ onPhase, onProgress, onWarning }) => {
    onPhase('reading\nframes');
    onProgress(3, 3);
    onWarning('a note');
    return { found: 7 };
  });
  expect(await linesOf(await fetch(`http://127.0.0.1:${port}/`))).toEqual([
    { phase: 'reading frames' },
    { done: 3, total: 3 },
    { warning: 'a note' },
    { result: { found: 7 } },
  ]);
});

it('gives what is found already as parts, before the result', async () => {
  const port = await serving(async (_, tell) => {
    tell({ place: 3 });
    tell({ place: 9 });
    return null;
  });
  expect(await linesOf(await fetch(`http://127.0.0.1:${port}/`))).toEqual([
    { part: { place: 3 } },
    { part: { place: 9 } },
    { result: null },
  ]);
});

it('tells what the owner can mend, and of a fault of ours only that there was one', async () => {
  const said = vi.spyOn(process.stderr, 'write').mockImplementation(() => true);
  onTestFinished(() => said.mockRestore());
  const failing = async (error: Error) =>
    linesOf(
      await fetch(
        `http://127.0.0.1:${await serving(async () => {
          throw error;
        })}/`,
      ),
    );
  expect(await failing(new Problem('bad-video', 'no video'))).toEqual([
    { problem: { code: 'bad-video', message: 'no video' } },
  ]);
  expect(said).not.toHaveBeenCalled();
  expect(await failing(new TypeError('x is\nnot a function'))).toEqual([
    { problem: { code: 'fault', message: 'a fault in the program; the terminal tells more' } },
  ]);
  expect(said.mock.calls).toEqual([
    [
      expect.stringMatching(
        /^perchmark: a fault in the program: TypeError: x is not a function at .*streamed\.test\.ts.*\n$/,
      ),
    ],
  ]);
});

it('stops the job when the page goes away', async () => {
  let stopped: unknown;
  const ended = new Promise<void>((done) => {
    void serving(({ signal, onPhase }) => {
      onPhase('reading');
      return new Promise((_, fail) =>
        signal!.addEventListener('abort', () => {
          stopped = signal!.reason;
          done();
          fail(signal!.reason);
        }),
      );
    }).then((port) => {
      const socket = connect(port, '127.0.0.1', () => socket.write('GET / HTTP/1.1\r\nHost: x\r\n\r\n'));
      // Once the answer has begun, the wire is cut.
      socket.on('data', () => socket.destroy());
    });
  });
  await ended;
  expect(stopped).toBeInstanceOf(Problem);
});
