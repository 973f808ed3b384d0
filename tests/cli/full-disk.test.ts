import { spawnSync } from 'node:child_process';
import {
  closeSync,
  cpSync,
  mkdirSync,
  openSync,
  readdirSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { drawFrames, writeClip } from '../support/clips.js';
import { bin, commandIn, messagesIn } from '../support/command.js';
import { smallDisk } from '../support/disk.js';
import { writePhotos } from '../support/photos.js';
import { start } from '../torture/process.js';
import { contentsOf, makeWorld, type World } from '../torture/world.js';

const disk = smallDisk('1m');
const on = (...names: string[]) => join(disk.path ?? '', ...names);

let world: World;
beforeAll(async () => {
  world = await makeWorld();
  // A patch in the corner that goes to and fro, so that a mask holds.
  const frames = drawFrames(
    300,
    (k) => (k % 25 < 10 ? { x: k % 2 ? 2 : 6, y: 38, size: 8, level: 60 } : null),
    'branch',
  );
  await writeClip(join(world.folder, 'branch'), frames, {
    version: 1,
    visits: [{ start: 8, end: 10, type: 'animal' }],
  });
  writeFileSync(
    join(world.folder, 'now.json'),
    '{ "version": 1, "threshold": 18, "minimumArea": 16, "cooldown": 1 }',
  );
});
afterAll(() => world.remove());
afterEach(() => {
  if (disk.path) for (const entry of readdirSync(disk.path)) rmSync(on(entry), { recursive: true });
});

/** Fills the disk but for so many bytes. */
function leave(room: number): void {
  const file = openSync(on('filler'), 'w');
  let size = 0;
  try {
    for (;;) size += writeSync(file, Buffer.alloc(4096));
  } catch {
    // Full.
  }
  closeSync(file);
  truncateSync(on('filler'), Math.max(0, size - room));
}

const using = ['--camera', 'camera.json'];
const under = [...using, '--settings', 'settings.json'];

describe.skipIf(disk.why)(`where a disk is full ${disk.why ?? ''}`, () => {
  it.each<[string, string, string[]]>([
    ['replay --report', 'page.html', ['replay', 'jpegs', ...under, '--report']],
    ['tune --report', 'page.html', ['tune', 'jpegs', ...using, '--recorded-only', '--report']],
    ['diagnose --report', 'page.html', ['diagnose', 'jpegs', ...under, '--report']],
    [
      'diagnose --write-mask',
      'mask.json',
      ['diagnose', 'branch', ...using, '--settings', 'now.json', '--write-mask'],
    ],
    ['check --report', 'page.html', ['check', 'suite.json', '--report']],
    ['check --junit', 'junit.xml', ['check', 'suite.json', '--junit']],
    ['weather --show-map', 'map.png', ['weather', 'jpegs', 'out/windy', '--wind', '4', '--show-map']],
    ['weather', 'windy', ['weather', 'jpegs', '--wind', '4']],
    ['add', 'added', ['add', 'raw']],
  ])('%s says so in one line and leaves nothing', async (_, name, line) => {
    leave(0);
    const before = { ...contentsOf(on()), ...contentsOf(world.folder, ['cache']) };
    const { code, out, err } = await commandIn(world.folder)(...line, on(name));
    expect({ code, out }).toEqual({ code: 2, out: '' });
    const [told, ...more] = err.split('\n').filter((text) => text !== '' && !text.includes('note: '));
    expect(told).toMatch(/^perchmark: .*: cannot be written \(ENOSPC\): there is no space left on that disk/);
    expect(told).toContain(on(name));
    expect(more).toEqual([]);
    expect({ ...contentsOf(on()), ...contentsOf(world.folder, ['cache']) }).toEqual(before);
  });

  it('check --accept keeps the results that were accepted before', async () => {
    cpSync(world.folder, on('copy'), {
      recursive: true,
      filter: (path) => !/cache|video|raw|branch/.test(path),
    });
    const run = commandIn(on('copy'), join(world.folder, 'cache'));
    expect((await run('check', 'suite.json', '--accept', '--why', 'first')).code).toBe(0);
    leave(0);
    const before = contentsOf(on());
    const { code, err } = await run('check', 'suite.json', '--accept', '--why', 'second');
    expect({ code, err }).toEqual({ code: 2, err: expect.stringMatching(/suite\.accepted\.json: .*ENOSPC/) });
    expect(contentsOf(on())).toEqual(before);
  });

  it('evening leaves neither a sheet nor marks where there is room for the marks alone', async () => {
    await writePhotos(join(world.folder, 'DCIM'), { 'a.jpg': '2026-05-09 06:00:00', 'b.jpg': null });
    // The sheet holds its script, which takes more than two blocks.
    leave(8192);
    const before = contentsOf(on());
    const { code, out, err } = await commandIn(world.folder)('evening', 'DCIM', '--sheet', on('page.html'));
    expect({ code, out, err }).toEqual({
      code: 2,
      out: '',
      err: expect.stringMatching(
        /page\.html: cannot be written \(ENOSPC\): there is no space left on that disk/,
      ),
    });
    expect(contentsOf(on())).toEqual(before);
  });

  it('standard output that cannot be written is an error', async () => {
    leave(0);
    const output = openSync(on('said'), 'w');
    const ended = await start(world.folder, ['replay', 'jpegs', ...under, '--json'], { output }).ended;
    closeSync(output);
    expect({ code: ended.code, err: ended.err }).toEqual({
      code: 2,
      err: 'perchmark: standard output: cannot be written (ENOSPC): there is no space left on that disk; free some\n',
    });
  });

  it.each<[string, string[]]>([
    ['tune --json', ['tune', 'jpegs', ...using, '--json']],
    ['completion', ['completion', 'bash']],
    ['schema', ['schema', 'labels']],
  ])('of which only a part fits is an error too: %s', async (_, line) => {
    leave(4096);
    // One block is free, and each of the three prints more.
    const output = openSync(on('said'), 'w');
    const whole = (await commandIn(world.folder)(...line)).out.length;
    const ended = await start(world.folder, line, { output }).ended;
    closeSync(output);
    expect(whole).toBeGreaterThan(statSync(on('said')).size);
    expect({ code: ended.code, err: ended.err }).toEqual({
      code: 2,
      err: expect.stringMatching(/^perchmark: standard output: cannot be written \(ENOSPC\): /),
    });
  });

  it('a cache there is done without', async () => {
    const line = ['tune', 'jpegs', ...using, '--json'];
    const whole = await commandIn(world.folder)(...line);
    mkdirSync(on('cache'));
    leave(8192);
    const { code, out, err } = await commandIn(world.folder, on('cache'))(...line);
    expect({ code, out }).toEqual({ code: 0, out: whole.out });
    expect(err.match(/the cache cannot be written/g)).toHaveLength(1);
    expect(Object.keys(contentsOf(on())).filter((path) => path.includes('.partial'))).toEqual([]);
  });
});

describe('what is read of standard output', () => {
  it.each(['true', 'head -c 1 >/dev/null', 'cat >/dev/null'])(
    'changes no verdict: check | %s',
    async (reader) => {
      writeFileSync(
        join(world.folder, 'blind.json'),
        '{ "version": 1, "threshold": 250, "minimumArea": 3000, "cooldown": 1 }',
      );
      await commandIn(world.folder)('check', 'suite.json', '--accept', '--why', 'as it is');
      const codeOf = (...more: string[]) => {
        const line = `"$0" "$@" | ${reader}; exit "\${PIPESTATUS[0]}"`;
        const args = ['-c', line, process.execPath, bin, 'check', 'suite.json', ...more];
        const env = { ...process.env, PERCHMARK_CACHE: join(world.folder, 'cache') };
        const { status, stderr } = spawnSync('bash', args, { cwd: world.folder, env, encoding: 'utf8' });
        return { status, said: messagesIn(stderr).filter((line) => !line.startsWith('perchmark: note: ')) };
      };
      expect(codeOf()).toEqual({ status: 0, said: [] });
      // Under settings that catch nothing, visits are lost.
      expect(codeOf('--against', 'blind.json')).toEqual({ status: 1, said: [] });
    },
  );

  it.each(['2>/dev/full', '2> >(true)', '2>&-'])('nor do notes that go nowhere: replay %s', async (where) => {
    await commandIn(world.folder)('replay', 'jpegs', ...under);
    const line = `"$0" "$@" ${where}`;
    const words = ['replay', 'jpegs', ...using, '--settings', 'odd.json', '--json'];
    writeFileSync(
      join(world.folder, 'odd.json'),
      '{ "version": 1, "threshold": 18, "minimumArea": 5, "cooldown": 1 }',
    );
    const env = { ...process.env, PERCHMARK_CACHE: join(world.folder, 'cache') };
    const { status, stdout } = spawnSync('bash', ['-c', line, process.execPath, bin, ...words], {
      cwd: world.folder,
      env,
      encoding: 'utf8',
    });
    expect(status).toBe(0);
    expect(JSON.parse(stdout).clips).toHaveLength(1);
  });
});
