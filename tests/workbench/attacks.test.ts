import { execFileSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { connect, type Socket } from 'node:net';
import { networkInterfaces } from 'node:os';
import { join } from 'node:path';
import { beforeEach, expect, it, onTestFinished, vi } from 'vitest';
import { drawFrames, writeClip } from '../support/clips.js';
import { scratch, served } from '../support/workbench.js';

const LABELS = { version: 1, visits: [{ start: 0.4, end: 1, type: 'animal', name: 'wren' }] };

interface Attacked {
  folder: string;
  /** A folder beside it, which no request may reach. */
  outside: string;
  port: number;
  secret: string;
  address: string;
}

let at: Attacked;
beforeEach(async () => {
  // What the server says of its own faults; there must be none.
  const faults = vi.spyOn(process.stderr, 'write').mockImplementation(() => true);
  const whole = scratch();
  const [folder, outside] = [join(whole, 'open'), join(whole, 'outside')];
  mkdirSync(outside);
  await writeClip(
    join(folder, 'hedge'),
    drawFrames(6, () => null, 'attacks'),
    LABELS,
  );
  const address = await served(folder);
  const { port, pathname } = new URL(address);
  at = { folder, outside, port: Number(port), secret: pathname.replaceAll('/', ''), address };
  onTestFinished(async () => {
    const said = faults.mock.calls.map(([text]) => String(text)).filter((text) => /fault|error/i.test(text));
    faults.mockRestore();
    expect(said).toEqual([]);
    // Alive, and nothing harmed.
    const alive = await send({ path: `/${at.secret}/api/alive` });
    expect([alive.status, JSON.parse(alive.body)]).toEqual([200, { started: expect.any(String) }]);
  });
});

interface Answer {
  status: number;
  headers: Record<string, string | string[] | undefined>;
  body: string;
}

/** A request as no browser would send it. */
function send(given: {
  path: string;
  method?: string;
  headers?: Record<string, string>;
  body?: string | Buffer;
}): Promise<Answer> {
  const { path, method = 'GET', headers = {}, body } = given;
  return new Promise((done, fail) => {
    const asking = request(
      { host: '127.0.0.1', port: at.port, path, method, headers, agent: false },
      (answer) => {
        const pieces: Buffer[] = [];
        answer.on('data', (piece) => pieces.push(piece));
        answer.on('error', fail);
        answer.on('end', () => {
          done({
            status: answer.statusCode!,
            headers: answer.headers,
            body: Buffer.concat(pieces).toString(),
          });
        });
      },
    );
    asking.on('error', fail);
    asking.end(body);
  });
}

/** What comes back for bytes that are sent as they are, until the other side closes. */
function raw(text: string, keepOpen = false): Promise<string> {
  return new Promise((done, fail) => {
    let found = '';
    const socket = connect(at.port, '127.0.0.1', () => (keepOpen ? socket.write(text) : socket.end(text)));
    socket.setEncoding('latin1').on('data', (piece) => {
      found += piece;
    });
    socket.on('close', () => done(found));
    // It may hang up while it is still being sent to.
    socket.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'ECONNRESET' && error.code !== 'EPIPE') fail(error);
    });
  });
}

const api = (path: string) => `/${at.secret}/api/${path}`;

/** An answer that says no in one line of ours, with the safety headers and without a word of what is inside. */
function refusedWith(answer: Answer, status: number | readonly number[]) {
  expect([status].flat(), answer.body).toContain(answer.status);
  expect(answer.headers).toMatchObject({
    'content-security-policy': expect.stringContaining("default-src 'none'"),
    'x-content-type-options': 'nosniff',
    'referrer-policy': 'no-referrer',
    'cross-origin-resource-policy': 'same-origin',
    'cache-control': 'no-store',
  });
  const { code, message } = JSON.parse(answer.body) as { code: string; message: string };
  expect(code).not.toBe('fault');
  expect(message).not.toMatch(/\n|node_modules|\.js:| {4}at /);
}

const labelsNow = () => JSON.parse(readFileSync(join(at.folder, 'hedge', 'labels.json'), 'utf8'));

it.each([
  ['another host', { Host: 'garden.example' }],
  ['another port of this host', { Host: '127.0.0.1:1' }],
  ['a host that only begins like this one', { Host: '127.0.0.1.garden.example' }],
  ['another origin', { Origin: 'https://garden.example' }],
  ['no origin at all, as from a sandboxed frame', { Origin: 'null' }],
  ['another scheme', { Origin: 'https://127.0.0.1' }],
  ['a page of another site', { 'Sec-Fetch-Site': 'cross-site' }],
  ['another port of this machine', { 'Sec-Fetch-Site': 'same-site' }],
])('refuses %s', async (_, headers) => {
  for (const [method, path] of [
    ['GET', api('workspace')],
    ['GET', `/${at.secret}/`],
    ['PUT', api('clips/hedge/labels')],
    ['POST', api('clips/hedge/open')],
  ] as const) {
    refusedWith(await send({ path, method, headers }), 403);
  }
});

it('refuses whoever does not know the secret, and tells them nothing', async () => {
  const wrong = at.secret.replace(/./, (c) => (c === 'a' ? 'b' : 'a'));
  for (const path of [
    '/',
    '/api/workspace',
    `/${wrong}/api/workspace`,
    `/${at.secret}x/`,
    `/${at.secret.slice(1)}/`,
    '//',
    `//${at.secret}/api/alive`,
  ]) {
    const answer = await send({ path });
    refusedWith(answer, 404);
    expect(answer.body).not.toContain(at.secret);
  }
});

it('lets its own page in', async () => {
  const headers = { Origin: at.address.split('/').slice(0, 3).join('/'), 'Sec-Fetch-Site': 'same-origin' };
  expect((await send({ path: api('workspace'), headers })).status).toBe(200);
  const page = await send({ path: `/${at.secret}/` });
  expect([page.status, page.headers['content-security-policy']]).toEqual([
    200,
    expect.stringContaining("script-src 'self'"),
  ]);
});

it('listens on this machine alone', async () => {
  const others = Object.values(networkInterfaces()).flatMap((all = []) =>
    all.filter(({ internal, family }) => !internal && family === 'IPv4').map(({ address }) => address),
  );
  for (const host of [...others, '127.0.0.2', '::1']) {
    const reached = await new Promise((done) => {
      const socket = connect(at.port, host, () => {
        socket.destroy();
        done(true);
      }).on('error', () => done(false));
    });
    expect([host, reached]).toEqual([host, false]);
  }
});

it.each([
  '..%2fopen%2fhedge',
  '%2e%2e',
  '..',
  '%2e%2e%2foutside',
  '..%5coutside',
  'hedge%2f..%2fhedge',
  'hedge%00',
  '%00',
  'hedge%2fframes',
  '.%2fhedge',
  '%ff%fe',
  '%',
  '%2Fetc%2Fpasswd',
  'constructor',
  '__proto__',
])('finds no clip under %s', async (id) => {
  for (const [method, path] of [
    ['GET', 'labels'],
    ['GET', 'frames/0'],
    ['GET', 'evidence'],
    ['PUT', 'labels'],
  ] as const) {
    const body = JSON.stringify({ labels: LABELS, base: '' });
    refusedWith(
      await send({ path: api(`clips/${id}/${path}`), method, ...(method === 'PUT' && { body }) }),
      [400, 404],
    );
  }
  const opened = await send({ path: api(`clips/${id}/open`), method: 'POST' });
  expect(opened.body).not.toContain('"result"');
});

it.each([
  '..%2f..%2fserve.js',
  '%2e%2e/serve.js',
  '../serve.js',
  '..%5cserve.js',
  '%00',
  'index.html%00',
  '%2fetc%2fpasswd',
  'assets%2f..%2f..%2fserve.js',
])('serves no file outside the page: %s', async (path) => {
  refusedWith(await send({ path: `/${at.secret}/${path}` }), [400, 404]);
});

it('follows no link out of the opened folder, neither to read nor to write', async () => {
  const { folder, outside } = at;
  const kept = JSON.stringify({ version: 1, visits: [] });
  writeFileSync(join(outside, 'labels.json'), kept);
  writeFileSync(join(outside, 'clip.json'), JSON.stringify({ version: 1, frames: 'frames/*.png', rate: 5 }));
  await writeClip(
    join(outside, 'clip'),
    drawFrames(6, () => null, 'outside'),
    LABELS,
  );
  // A clip folder that is a link.
  symlinkSync(join(outside, 'clip'), join(folder, 'linked'));
  // Labels that are, a description that is, frames that are.
  for (const name of ['labels', 'about', 'frames', 'picture']) {
    await writeClip(
      join(folder, name),
      drawFrames(6, () => null, name),
      name === 'labels' ? null : LABELS,
    );
  }
  symlinkSync(join(outside, 'labels.json'), join(folder, 'labels', 'labels.json'));
  rmSync(join(folder, 'about', 'clip.json'));
  symlinkSync(join(outside, 'clip.json'), join(folder, 'about', 'clip.json'));
  rmSync(join(folder, 'frames', 'frames'), { recursive: true });
  symlinkSync(join(outside, 'clip', 'frames'), join(folder, 'frames', 'frames'));
  rmSync(join(folder, 'picture', 'frames', '0.png'));
  symlinkSync(join(outside, 'clip', 'frames', '0.png'), join(folder, 'picture', 'frames', '0.png'));
  symlinkSync(join(outside, 'camera.json'), join(folder, 'camera.json'));
  await writeClip(
    join(folder, 'climbs'),
    drawFrames(6, () => null, 'climbs'),
    null,
    { rate: 5, frames: '../../outside/clip/frames/*.png' },
  );

  const { clips, problems } = JSON.parse((await send({ path: api('workspace') })).body);
  expect(clips.map(({ name }: { name: string }) => name)).not.toContain('linked');
  expect(problems).toEqual([expect.stringMatching(/camera\.json: this is a link/)]);
  const body = JSON.stringify({ labels: { version: 1, visits: [{ start: 0, end: 1 }] }, base: '' });
  for (const name of ['linked', 'labels', 'about', 'frames', 'picture', 'climbs']) {
    refusedWith(await send({ path: api(`clips/${name}/frames/0`) }), 400);
    refusedWith(await send({ path: api(`clips/${name}/labels`), method: 'PUT', body }), 400);
    const opened = await send({ path: api(`clips/${name}/open`), method: 'POST' });
    expect([name, opened.body]).toEqual([name, expect.stringMatching(/"problem"/)]);
    expect(opened.body).not.toContain('"result"');
  }
  expect(readFileSync(join(outside, 'labels.json'), 'utf8')).toBe(kept);
});

it('waits for no pipe that stands where labels are expected', async () => {
  const file = join(at.folder, 'hedge', 'labels.json');
  rmSync(file);
  execFileSync('mkfifo', [file]);
  refusedWith(await send({ path: api('clips/hedge/labels') }), 400);
  const body = JSON.stringify({ labels: LABELS, base: '' });
  refusedWith(await send({ path: api('clips/hedge/labels'), method: 'PUT', body }), 400);
});

const deep = (depth: number) => `${'['.repeat(depth)}${']'.repeat(depth)}`;

it.each([
  ['nothing', ''],
  ['no JSON', '{"labels": '],
  ['a list', '[]'],
  ['no UTF-8', Buffer.from([0x7b, 0xff, 0xfe, 0x7d])],
  ['JSON 5,000 deep', `{"labels": ${deep(5000)}, "base": ""}`],
  ['JSON a million deep', `{"labels": ${deep(1_000_000)}, "base": ""}`],
  ['a mask 5,000 deep', `{"mask": ${deep(5000)}}`],
  ['a prototype', '{"labels": {"__proto__": {"version": 1}, "visits": []}, "base": ""}'],
  [
    'numbers without end',
    '{"labels": {"version": 1, "visits": [{"start": 1e999, "end": 1e999}]}, "base": ""}',
  ],
  ['labels of no clip', '{"labels": {"version": 1, "visits": [{"start": 0, "end": 99999}]}, "base": ""}'],
])('refuses %s', async (_, body) => {
  const headers = { 'Content-Type': 'application/json' };
  refusedWith(await send({ path: api('clips/hedge/labels'), method: 'PUT', headers, body }), 400);
  if (String(body) !== '')
    refusedWith(await send({ path: api('clips/hedge/evidence'), method: 'POST', headers, body }), 400);
  refusedWith(await send({ path: api('clips/hedge/boxes'), method: 'POST', headers, body }), 400);
  refusedWith(await send({ path: api('camera'), method: 'PUT', headers, body }), 400);
  expect(labelsNow()).toEqual(LABELS);
});

it('refuses 50 MB at once, whether they are announced or not', async () => {
  const body = Buffer.alloc(50 * 2 ** 20, 0x20);
  const announced = send({ path: api('clips/hedge/labels'), method: 'PUT', body });
  // It may hang up while it is still being sent to.
  await announced.then(
    (answer) => refusedWith(answer, 413),
    (error) => expect(error.code).toMatch(/EPIPE|ECONNRESET/),
  );
  const chunk = `${(2 ** 20).toString(16)}\r\n${' '.repeat(2 ** 20)}\r\n`;
  const head = `PUT ${api('clips/hedge/labels')} HTTP/1.1\r\nHost: 127.0.0.1:${at.port}\r\nTransfer-Encoding: chunked\r\n\r\n`;
  const found = await raw(head + chunk.repeat(20));
  expect(found).not.toMatch(/^HTTP\/1\.1 (2|5)/);
  expect(labelsNow()).toEqual(LABELS);
});

it.each(['DELETE', 'PATCH', 'OPTIONS', 'TRACE', 'POST'])('knows no %s of labels', async (method) => {
  refusedWith(await send({ path: api('clips/hedge/labels'), method }), [400, 404, 405]);
  expect(labelsNow()).toEqual(LABELS);
});

it.each([
  ['bytes that are no request', '\u0000\u0001\u0002\u0003garbage\r\n\r\n'],
  ['another protocol', '\u0016\u0003\u0001\u0002\u0000\u0001\u0000\u0001'],
  ['two lengths', 'POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 4\r\nContent-Length: 40\r\n\r\nabcd'],
  [
    'a length and chunks',
    'POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\nabcd',
  ],
  [
    'a request that is followed by garbage',
    'GET / HTTP/1.1\r\nHost: x\r\n\r\n\u0000\u0000GARBAGE / / /\r\n\r\n',
  ],
  ['heads of a megabyte', `GET / HTTP/1.1\r\nHost: x\r\nX: ${'a'.repeat(2 ** 20)}\r\n\r\n`],
  ['no host', 'GET / HTTP/1.0\r\n\r\n'],
  ['a host that is none', 'GET / HTTP/1.1\r\nHost: a b\u0001/@:99999\r\n\r\n'],
  ['an address of another server', 'GET http://garden.example/ HTTP/1.1\r\nHost: garden.example\r\n\r\n'],
  ['a tunnel', 'CONNECT garden.example:443 HTTP/1.1\r\nHost: garden.example\r\n\r\n'],
  [
    'another protocol from now on',
    'GET / HTTP/1.1\r\nHost: x\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n\r\n',
  ],
])('refuses %s', async (_, text) => {
  const found = await raw(text);
  expect(found).not.toMatch(/^HTTP\/1\.1 (2|3|5)/m);
  expect(found).not.toMatch(/node_modules| {4}at /);
});

it('refuses what is told apart from a good request only by its second host', async () => {
  const found = await raw(
    `GET ${api('workspace')} HTTP/1.1\r\nHost: 127.0.0.1:${at.port}\r\nHost: garden.example\r\nConnection: close\r\n\r\n`,
  );
  expect(found).not.toMatch(/hedge/);
});

it('has a thousand connections hang up, not the page', async () => {
  const sockets = Array.from({ length: 1000 }, () =>
    connect(at.port, '127.0.0.1').on('error', () => undefined),
  );
  const ended = (socket: Socket) => socket.destroyed || socket.readableEnded;
  // Those that are too many are closed at once.
  for (const socket of sockets) socket.resume();
  await expect.poll(() => sockets.filter(ended).length).toBeGreaterThan(800);
  for (const socket of sockets) socket.destroy();
  await expect
    .poll(() =>
      send({ path: api('alive') }).then(
        ({ status }) => status,
        () => 0,
      ),
    )
    .toBe(200);
});

it('lets the page in while a thousand others connect and say nothing', async () => {
  const sockets = Array.from({ length: 1000 }, () =>
    connect(at.port, '127.0.0.1').on('error', () => undefined),
  );
  await Promise.all(sockets.map((socket) => once(socket, 'connect')));
  const statuses = await Promise.all(
    Array.from({ length: 6 }, () => send({ path: api('alive') }).then(({ status }) => status)),
  );
  for (const socket of sockets) socket.destroy();
  expect(statuses).toEqual([200, 200, 200, 200, 200, 200]);
});

it('answers ten thousand requests one after another on few connections', async () => {
  const head = `GET ${api('alive')} HTTP/1.1\r\nHost: 127.0.0.1:${at.port}\r\n`;
  const some = `${`${head}\r\n`.repeat(1249)}${head}Connection: close\r\n\r\n`;
  const answers = await Promise.all(Array.from({ length: 8 }, () => raw(some, true)));
  for (const found of answers) expect(found.match(/HTTP\/1\.1 200/g)).toHaveLength(1250);
});

it('hangs up on whoever sends a request drop by drop', async () => {
  const folder = scratch();
  const address = await served(folder, undefined, { headMs: 200, wholeMs: 400 });
  const { port, pathname } = new URL(address);
  const slow = async (head: string, drop = 'a') => {
    const socket = connect(Number(port), '127.0.0.1').on('error', () => undefined);
    socket.write(head);
    socket.resume();
    const drops = setInterval(() => socket.write(drop), 20);
    await new Promise((done) => socket.on('close', done));
    clearInterval(drops);
  };
  const host = `Host: 127.0.0.1:${port}\r\n`;
  await Promise.all([
    slow(`GET ${pathname} HTTP/1.1\r\n${host}X-Slow: `),
    slow(`PUT ${pathname}api/camera HTTP/1.1\r\n${host}Content-Length: 100000\r\n\r\n`),
    slow(''),
    // Connected, and silent for good.
    slow('', ''),
  ]);
  expect((await fetch(`${address}api/alive`)).status).toBe(200);
});
