import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { connect, createServer } from 'node:net';
import { join } from 'node:path';
import { expect, it, onTestFinished, vi } from 'vitest';
import { canShowPage } from '../../src/cli/display.js';
import { schemaNamed } from '../../src/jobs/schemas.js';
import { drawFrames, writeClip } from '../support/clips.js';
import { bin, processIn } from '../support/command.js';
import { scratch } from '../support/workbench.js';

interface Running {
  child: ChildProcess;
  /** All of its standard output, and of its standard error, so far. */
  said: { out: string; err: string };
  /** Its first line of output. */
  line: string;
  ended: Promise<unknown[]>;
}

async function opening(folder: string, ...args: string[]): Promise<Running> {
  const env = { ...process.env, PERCHMARK_CACHE: join(folder, 'cache') };
  const child = spawn(process.execPath, [bin, 'open', ...args], {
    env,
    cwd: folder,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  onTestFinished(() => {
    child.kill('SIGKILL');
  });
  const said = { out: '', err: '' };
  const ended = once(child, 'close');
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    said.err += text;
  });
  await new Promise<void>((done) => {
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      said.out += text;
      if (said.out.includes('\n')) done();
    });
    child.on('close', () => done());
  });
  return { child, said, line: said.out.split('\n')[0]!, ended };
}

it.each([
  ['SIGINT', 130],
  ['SIGTERM', 143],
  ['SIGHUP', 129],
] as const)('prints one line of JSON once it listens, and ends by %s', async (signal, code) => {
  const folder = scratch();
  await writeClip(
    join(folder, 'hedge'),
    drawFrames(4, () => null, 'open'),
    null,
  );
  const { child, said, line, ended } = await opening(folder, 'hedge', '--json');
  const document = JSON.parse(line) as { address: string };
  expect((await schemaNamed('open')).parse(document)).toEqual(document);
  expect(document.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/[\w-]{32}\/$/);
  const workspace = (await (await fetch(`${document.address}api/workspace`)).json()) as {
    folder: string;
    clips: object[];
  };
  expect([workspace.folder, workspace.clips.length]).toEqual(['hedge', 1]);

  // A page that goes away in the middle of an answer is no news.
  const { port, pathname } = new URL(document.address);
  const socket = connect(Number(port), '127.0.0.1');
  socket.write(
    `POST ${pathname}api/clips/hedge/open HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nContent-Length: 0\r\n\r\n`,
  );
  await once(socket, 'data');
  socket.destroy();

  child.kill(signal);
  expect(await ended).toEqual([code, null]);
  expect(said.out).toBe(`${line}\n`);
  expect(said.err).toBe(
    'perchmark: stopped; what the page said was saved is saved; the same command opens it again\n',
  );
});

it.each([
  [['nowhere'], 'nowhere: there is no such folder'],
  [['file'], 'file: this is a file'],
  [['--port', '0'], '--port'],
])('refuses %j in one line', async (args, says) => {
  const folder = scratch();
  await writeClip(
    folder,
    drawFrames(1, () => null, 'open'),
    null,
  );
  const named = args.map((arg) => (arg === 'file' ? 'clip.json' : arg));
  const { code, out, err } = await processIn(folder)('open', '--json', ...named);
  expect([code, out]).toEqual([2, '']);
  expect(err).toContain(says.replace(/^file/, 'clip.json'));
  expect(err.trim().split('\n')).toHaveLength(1);
});

it('says so where its port is taken', async () => {
  const other = createServer().listen(0, '127.0.0.1');
  onTestFinished(() => {
    other.close();
  });
  await once(other, 'listening');
  const { port } = other.address() as { port: number };
  const { code, err } = await processIn(scratch())('open', '--json', '--port', String(port));
  expect([code, err]).toEqual([
    2,
    expect.stringMatching(/^perchmark: --port \d+: another program listens there/),
  ]);
});

it.skipIf(['darwin', 'win32'].includes(process.platform))(
  'opens by itself only where somebody can see it',
  () => {
    const terminal = (isTTY: boolean) => {
      for (const stream of [process.stdin, process.stdout]) {
        const before = Object.getOwnPropertyDescriptor(stream, 'isTTY');
        Object.defineProperty(stream, 'isTTY', { value: isTTY, configurable: true });
        onTestFinished(() => {
          if (before) Object.defineProperty(stream, 'isTTY', before);
          else Reflect.deleteProperty(stream, 'isTTY');
        });
      }
    };
    onTestFinished(() => {
      vi.unstubAllEnvs();
    });
    vi.stubEnv('WAYLAND_DISPLAY', '');
    terminal(true);
    vi.stubEnv('DISPLAY', '');
    expect(canShowPage()).toBe(false);
    vi.stubEnv('DISPLAY', ':0');
    expect(canShowPage()).toBe(true);
    terminal(false);
    expect(canShowPage()).toBe(false);
  },
);
