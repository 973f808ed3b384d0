import { spawn } from 'node:child_process';
import { chmodSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseHTML } from 'linkedom';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { check as checkJob } from '../../src/jobs/check.js';
import { Cache } from '../../src/store/cache.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { bin, commandIn, messagesIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'check-firmware-'));
afterAll(() => rmSync(folder, { recursive: true }));
const perchmark = commandIn(folder);
const read = (name: string) => readFileSync(join(folder, name), 'utf8');
const write = (name: string, content: object | string) =>
  writeFileSync(join(folder, name), typeof content === 'string' ? content : JSON.stringify(content));
/** A program in JavaScript, and the command that runs it. */
function program(name: string, code: string): string {
  write(`${name}.mjs`, code);
  return `node ${name}.mjs`;
}
const check = (...args: string[]) => perchmark('check', 'suite.json', ...args);
const checkBy = (command: string, ...args: string[]) => check('--camera-command', command, ...args);
const soon = () => new Promise((resolve) => setTimeout(resolve, 20));
/** By a program that hangs once it got so far: its patience goes by our turns and no clock, however long programs take to start. */
async function checkByHanging(command: string, gotSoFar: () => boolean) {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
  try {
    let isDone = false;
    const running = checkBy(command, '--patience', '4').finally(() => {
      isDone = true;
    });
    while (!isDone && !gotSoFar()) await soon();
    while (!isDone) {
      vi.advanceTimersByTime(400);
      await soon();
    }
    return await running;
  } finally {
    vi.useRealTimers();
  }
}

/** A wren from 4 s to 6 s, and a flash at 8 s that is nothing. */
const path = (k: number) => {
  if (k === 40 || k === 41) return { x: 10, y: 10, size: 12, level: 200 };
  return k >= 20 && k <= 30 ? { x: 2 + (k - 20) * 5, y: 20, size: 8, level: 160 } : null;
};
const labels = { version: 1, visits: [{ start: 4, end: 7, name: 'wren' }] };
const camera = { ...smallCamera, analysis: { ...smallCamera.analysis, smooth: 0 }, area: 'changed' };
const settings = { version: 1, threshold: 18, minimumArea: 16, cooldown: 1 };
/** The example of its README. */
const documented = (): string => {
  const text = readFileSync(
    fileURLToPath(new URL('../../src/check/firmware/README.md', import.meta.url)),
    'utf8',
  );
  return /<!-- firmware -->\n```js\n(.*?)```/s.exec(text)![1]!;
};

beforeAll(async () => {
  await writeClip(join(folder, 'calm'), drawFrames(100, path, 'firmware'), labels);
  write('camera.json', camera);
  write('suite.json', { version: 1, clips: ['calm'], camera: 'camera.json', settings });
  program('documented', documented());
  expect(await check('--accept', '--why', 'the description')).toMatchObject({ code: 0 });
});

describe('the firmware of its README', () => {
  it('fires as the description does that it is written after', async () => {
    const { code, out } = await checkBy('node documented.mjs', '--json');
    expect(JSON.parse(out)).toMatchObject({
      verdict: 'holds',
      command: 'node documented.mjs',
      changed: [`fired by: the command "node documented.mjs", was the camera's description`],
      clips: [{ verdict: 'same', now: { caught: 1, falseTriggers: 1 } }],
    });
    expect(code).toBe(0);
  });

  it('is held against a description without anything accepted, and told apart where it differs', async () => {
    write('steady.json', { ...settings, persistence: 2 });
    const same = await checkBy('node documented.mjs', '--against', 'camera.json');
    expect(same.code).toBe(0);
    expect(same.out).toContain('held against what the description gives with');
    expect(same.out.replace(/\s+/g, ' ')).toMatch(
      /\("was"\): no trigger differs\. .* no trigger differs\.\s*$/,
    );
    const { clips, changed } = JSON.parse(
      (await checkBy('node documented.mjs', '--against', 'steady.json', '--json')).out,
    );
    expect(changed).toHaveLength(1);
    expect(clips).toMatchObject([{ verdict: 'worse', newFalse: [{ time: 8 }] }]);
    const { newOther, goneOther } = clips[0];
    const differ = 1 + newOther.length + goneOther.length;
    const told = (await checkBy('node documented.mjs', '--against', 'steady.json')).out.replace(/\s+/g, ' ');
    // It loses no visit, so it holds; that it fires otherwise is said first and last all the same.
    expect(told).toContain(`("was"): ${differ} trigger${differ === 1 ? ' differs' : 's differ'}`);
    expect(told).toMatch(
      /Holds: no visit is newly lost and no limit broken; against the description, \d+ triggers? differs?/,
    );
  });

  it('is named in results that are accepted by it, which a description can then be held against', async () => {
    const before = read('suite.accepted.json');
    const accepting = await checkBy('node documented.mjs', '--accept', '--why', 'the code');
    expect(accepting).toMatchObject({ code: 0, err: expect.not.stringContaining('otherwise') });
    const accepted = JSON.parse(read('suite.accepted.json'));
    expect(accepted.firedBy).toEqual({ command: 'node documented.mjs', fullSize: false });
    expect({ ...accepted, why: '', firedBy: undefined }).toEqual({ ...JSON.parse(before), why: '' });
    const { code, out } = await check('--json');
    expect(code).toBe(0);
    expect(JSON.parse(out).changed).toEqual([
      `fired by: the camera's description, was the command "node documented.mjs"`,
    ]);
    write('suite.accepted.json', before);
  });

  it('loses a visit where it is worse, and the way to accept names the command', async () => {
    program('sleepy', documented().replace('changed >= minimumArea', 'time > 7 && changed >= minimumArea'));
    const { code, out } = await checkBy('node sleepy.mjs', '--junit', 'junit.xml', '--report', 'report.html');
    expect(code).toBe(1);
    expect(out).toContain('newly lost: 0:04.0-0:07.0 wren');
    expect(out).toContain('perchmark check suite.json --camera-command "..." --accept --why "..."');
    expect(read('junit.xml')).toContain('failures="1"');
    expect(parseHTML(read('report.html')).document.querySelector('section')?.textContent).toContain(
      'Fired by the command "node sleepy.mjs".',
    );
  });
});

describe('what a command is given', () => {
  it('is every frame that the camera looks at, as bytes, under the settings; and the clip again for each run', async () => {
    const command = program(
      'noting',
      `import { writeFileSync } from 'node:fs';
       const pieces = [];
       for await (const piece of process.stdin) pieces.push(piece);
       writeFileSync('given.bin', Buffer.concat(pieces));
       console.log('4.2');`,
    );
    write('slow.json', { ...camera, analysis: { width: 32, height: 24, rate: 2.5 } });
    expect(messagesIn((await checkBy(command, '--against', 'slow.json')).err)).toEqual([]);
    const given = readFileSync(join(folder, 'given.bin'));
    const [first, second] = given.toString('latin1').split('\n', 2) as [string, string];
    expect(first).toBe('perchmark-frames 1 32 24 2.5');
    expect(JSON.parse(second)).toMatchObject({
      settings: { threshold: 18, minimumArea: 16, mostChanged: 768, persistence: 1, cooldown: 1 },
      mask: [],
      camera: { analysis: { smooth: 0 }, reference: { kind: 'previous', lag: 1 }, area: 'changed' },
    });
    let at = first.length + second.length + 2;
    for (let k = 0; k < 50; k++) {
      const end = given.indexOf('\n', at);
      expect(given.subarray(at, end).toString('latin1')).toBe(`${k} ${Number((0.4 * k).toFixed(9))} 768`);
      at = end + 1 + 768;
    }
    expect(at).toBe(given.length);
  });

  it('is frames of the size of the clip where it asks for them', async () => {
    write('coarse.json', { ...camera, analysis: { width: 16, height: 12, rate: 5 } });
    await checkBy('node noting.mjs', '--full-size', '--against', 'coarse.json');
    const given = readFileSync(join(folder, 'given.bin'));
    expect(given.toString('latin1').split('\n', 1)).toEqual(['perchmark-frames 1 64 48 5']);
    expect(given.length).toBeGreaterThan(100 * 64 * 48);
  });
});

describe('a command that does otherwise each time', () => {
  it('is told of when it is accepted', async () => {
    const command = program(
      'moody',
      `import { existsSync, writeFileSync } from 'node:fs';
       for await (const _ of process.stdin);
       if (existsSync('been')) console.log(9); else console.log('4.2\\n9');
       writeFileSync('been', '');`,
    );
    const before = read('suite.accepted.json');
    const { code, err } = await checkBy(command, '--accept', '--why', 'moody');
    expect(code).toBe(0);
    expect(err).toMatch(
      /calm: the command fired otherwise .*: 1 of 2 triggers gone, 0 new; the first run is/,
    );
    write('suite.accepted.json', before);
  });
});

describe('what is wrong with a command is one line and exit code 2', () => {
  const reading = (then: string) => `for await (const _ of process.stdin);${then}`;
  const cases: [what: string, command: string | [string, string], message: RegExp][] = [
    [
      'one that is not there',
      './nowhere',
      /expected a program that can be run, found none called "\.\/nowhere"; mend where it is, or build it first$/,
    ],
    ['one that is not made to run', './camera.json', /found that nobody may run "\.\/camera\.json"/],
    ['one that a shell must run', 'node a.mjs | tee log', /found "\|", which takes a shell/],
    [
      'a crash at the end',
      ['crash', reading(`console.error('first\\nout of seed'); process.exit(7)`)],
      /calm: expected it to read to the end .* ended with exit code 7 at frame 100 of 100 \(it said last: "out of seed"\)/,
    ],
    [
      'one of JavaScript that is not there, by the error and not by the version of Node',
      'node nowhere.mjs',
      /\(it said last: "Error: Cannot find module '.*nowhere\.mjs'/,
    ],
    [
      'a crash of JavaScript',
      ['thrown', reading(`throw new RangeError('seed ran out', { cause: new Error('hole') })`)],
      /\(it said last: "RangeError: seed ran out/,
    ],
    [
      'what JavaScript throws that is no error',
      ['text', reading(`throw 'out of seed'`)],
      /\(it said last: ".*out of seed/,
    ],
    [
      'a crash on the way',
      ['early', `process.stdin.once('data', () => process.exit(3))`],
      /ended with exit code 3 at frame \d+ of 100/,
    ],
    [
      'an end by a signal',
      ['killed', reading(`process.kill(process.pid, 'SIGSEGV'); setInterval(() => 0, 1e4)`)],
      /ended by the signal SIGSEGV at frame 100/,
    ],
    [
      'an end before the end',
      ['bored', `process.stdin.once('data', () => process.exit(0))`],
      /ended with exit code 0 at frame \d+ of 100; let it read to the end, because what it does not look at is not tried/,
    ],
    [
      'input that it closes, and then ends',
      [
        'closing',
        `import { closeSync } from 'node:fs'; closeSync(0); setTimeout(() => process.exit(0), 300)`,
      ],
      /ended with exit code 0 at frame \d+ of 100/,
    ],
    [
      'nonsense',
      ['chatty', `console.log('hello\\u001b[31m'.repeat(30))`],
      /expected the time .* found "hello\\u001b\[31mhello/,
    ],
    ['a flood', ['flood', `for (;;) process.stdout.write('1\\n'.repeat(9999))`], /line \d of its output/],
    [
      'a line without end',
      ['long', `for (;;) process.stdout.write('1'.repeat(99999))`],
      /line 1 of its output: expected the time of a trigger/,
    ],
    [
      'bytes that are no text',
      ['binary', `process.stdout.write(Buffer.alloc(5000, 0xff))`],
      /found "\ufffd+\.\.\."/,
    ],
  ];
  it.each(cases)('%s', async (_, command, message) => {
    chmodSync(join(folder, 'camera.json'), 0o644);
    const line = typeof command === 'string' ? command : program(...command);
    const { code, out, err } = await checkBy(line);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(messagesIn(err)).toEqual([expect.stringMatching(message)]);
  });

  it.each<[string, string, () => boolean, RegExp]>([
    [
      'one that never reads',
      'sleep 1000',
      () => true,
      /found nothing of that for 4 s after frame \d+; mend it, or wait longer/,
    ],
    [
      'one that never ends',
      `sh -c 'cat > all; echo thinking >&2; : > thinking; sleep 1000'`,
      () => existsSync(join(folder, 'thinking')),
      /for 4 s after the end of its input \(it said last: "thinking"\)/,
    ],
  ])('%s, once it had --patience', async (_, command, gotSoFar, message) => {
    const { code, out, err } = await checkByHanging(command, gotSoFar);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(messagesIn(err)).toEqual([expect.stringMatching(message)]);
  });

  it.each([
    ['--patience', ['--patience', '5']],
    ['--full-size', ['--full-size']],
  ])('%s without a command is refused', async (option, args) => {
    const { code, err } = await check(...args);
    expect(code).toBe(2);
    expect(err).toContain(`${option}: expected together with --camera-command`);
  });
});

describe('what a command started', () => {
  /** Whether a process is there and not only waiting to be taken notice of. */
  const lives = (pid: number) => {
    try {
      return !/^\d+ \(.*\) Z/.test(readFileSync(`/proc/${pid}/stat`, 'utf8'));
    } catch {
      // Gone, be it in the midst of being read.
      return false;
    }
  };
  const gone = async (pid: number) => {
    while (lives(pid)) await soon();
  };
  const parent = (own: string) => `
    import { spawn } from 'node:child_process';
    import { writeFileSync } from 'node:fs';
    process.on('SIGTERM', () => 0);
    const child = spawn(process.execPath, ['-e', "process.on('SIGTERM', () => 0); setInterval(() => 0, 1e4)"], { stdio: 'inherit' });
    writeFileSync('pids.json', JSON.stringify([process.pid, child.pid]));
    ${own}`;
  const pids = () => JSON.parse(read('pids.json')) as number[];
  const hasStarted = () => existsSync(join(folder, 'pids.json')) && read('pids.json') !== '';

  it.skipIf(!existsSync('/proc'))('ends with it when it hangs', async () => {
    rmSync(join(folder, 'pids.json'), { force: true });
    const { code } = await checkByHanging(program('parent', parent('setInterval(() => 0, 1e4)')), hasStarted);
    expect(code).toBe(2);
    for (const pid of pids()) await gone(pid);
  });

  it.skipIf(!existsSync('/proc'))('ends with it when it ends and leaves its output open', async () => {
    const command = program(
      'leaving',
      parent(`for await (const _ of process.stdin); console.log(4.2); process.exit(0);`),
    );
    const { out } = await checkBy(command, '--json');
    expect(JSON.parse(out).clips).toMatchObject([{ now: { caught: 1 } }]);
    for (const pid of pids()) await gone(pid);
  });

  it.skipIf(!existsSync('/proc')).each(['SIGINT', 'SIGTERM', 'SIGHUP'] as const)(
    'ends with it on %s',
    async (signal) => {
      rmSync(join(folder, 'pids.json'), { force: true });
      const command = program('waiting', parent('setInterval(() => 0, 1e4)'));
      const env = { ...process.env, PERCHMARK_CACHE: join(folder, 'cache') };
      const args = [bin, 'check', 'suite.json', '--camera-command', command];
      const running = spawn(process.execPath, args, { cwd: folder, env, stdio: 'ignore' });
      while (!hasStarted()) await soon();
      const ended = new Promise((resolve) => running.once('exit', resolve));
      running.kill(signal);
      expect(await ended).toBe({ SIGINT: 130, SIGTERM: 143, SIGHUP: 129 }[signal]);
      for (const pid of pids()) await gone(pid);
    },
  );

  it.skipIf(!existsSync('/proc'))(
    'ends with it where a job is aborted, which throws the reason',
    async () => {
      rmSync(join(folder, 'pids.json'), { force: true });
      const stop = new AbortController();
      const here = process.cwd();
      process.chdir(folder);
      try {
        const job = checkJob(
          { suite: 'suite.json', firmware: { command: 'node waiting.mjs' } },
          { cache: new Cache(join(folder, 'cache')), signal: stop.signal },
        );
        const failed = expect(job).rejects.toThrow('enough');
        while (!hasStarted()) await soon();
        stop.abort(new Error('enough'));
        await failed;
      } finally {
        process.chdir(here);
      }
      for (const pid of pids()) await gone(pid);
    },
  );
});
