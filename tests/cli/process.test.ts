import { execFile } from 'node:child_process';
import { cpSync, linkSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { bin, commandIn, processIn } from '../support/command.js';

// Two folders with the same in them, so that neither way of running meets what the other has written.
const folder = mkdtempSync(join(tmpdir(), 'process-'));
const [here, apart] = [join(folder, 'here'), join(folder, 'apart')];
afterAll(() => rmSync(folder, { recursive: true }));

const path = (k: number) => (k >= 20 && k < 30 ? { x: 5 * (k - 20), y: 20, size: 6, level: 180 } : null);

beforeAll(async () => {
  const file = (name: string, content: unknown) => writeFileSync(join(here, name), JSON.stringify(content));
  const visits = [{ start: 4, end: 6, type: 'animal', name: 'wren' }];
  await writeClip(join(here, 'clip'), drawFrames(40, path, 'process'), { version: 1, visits });
  const settings = { version: 1, threshold: 18, minimumArea: 16, cooldown: 1 };
  file('camera.json', smallCamera);
  file('settings.json', settings);
  file('suite.json', { version: 1, clips: ['clip'], camera: 'camera.json', settings });
  cpSync(here, apart, { recursive: true });
});

const camera = ['--camera', 'camera.json'];
const settings = ['--settings', 'settings.json'];

describe('a process of its own gives the exit code and the output that other tests see in theirs', () => {
  it.each<[number, string[]]>([
    [0, ['replay', 'clip', ...camera, ...settings, '--json']],
    [0, ['tune', 'clip', ...camera, '--recorded-only', '--json']],
    [0, ['diagnose', 'clip', ...camera, ...settings, '--json']],
    [0, ['weather', 'clip', 'windy', '--wind', '4', '--seed', 'a', '--json']],
    [0, ['add', 'clip/frames', 'added', '--rate', '5', '--json']],
    [1, ['check', 'suite.json', '--json']],
    [2, ['replay', 'clip', ...camera]],
    [2, ['tune', 'nowhere']],
    [2, ['diagnose', 'clip', '--settings', 'none.json']],
    [2, ['weather', 'clip', 'calmer']],
    [2, ['add', 'nowhere', 'new']],
    [2, ['check']],
    [2, ['demo', '--jsn']],
  ])('%i: %j', async (code, args) => {
    const ran = await processIn(apart)(...args);
    expect(ran).toEqual(await commandIn(here)(...args));
    expect(ran.code).toBe(code);
    // One JSON document or nothing.
    if (code < 2) JSON.parse(ran.out);
    else expect(ran.out).toBe('');
  });
});

it('stopped while it writes a clip, it leaves nothing of it and says so', async () => {
  // Long enough to be stopped on the way: one frame under two thousand names.
  const dir = join(folder, 'long');
  mkdirSync(join(dir, 'clip', 'frames'), { recursive: true });
  writeFileSync(join(dir, 'clip', 'clip.json'), '{"version":1,"frames":"frames/*.png","rate":5}');
  for (let k = 0; k < 2000; k++) {
    linkSync(join(here, 'clip', 'frames', '0.png'), join(dir, 'clip', 'frames', `${k}.png`));
  }
  const entries = readdirSync(dir);
  const started = new Promise<{ code: unknown; err: string }>((done) => {
    const env = { ...process.env, PERCHMARK_CACHE: join(folder, 'cache') };
    const args = [bin, 'weather', 'clip', 'windy', '--wind', '4'];
    const child = execFile(process.execPath, args, { env, cwd: dir }, (error, _, err) => {
      clearInterval(watching);
      done({ code: error?.code, err });
    });
    const watching = setInterval(() => {
      if (!readdirSync(dir).some((name) => name.endsWith('.partial'))) return;
      clearInterval(watching);
      child.kill('SIGINT');
    }, 10);
  });
  const { code, err } = await started;
  expect({ code, entries: readdirSync(dir) }).toEqual({ code: 130, entries });
  expect(err).toMatch(/(^|\n)perchmark: stopped; nothing was made; .*\n$/);
});
