import { execFileSync, spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { decoder } from '../../src/clip/decode.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn, processIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'readings-'));
afterAll(() => rmSync(folder, { recursive: true }));
const FRAMES = 150;
/** A few frames tell a clip's noise, and one more whether it is in colour. */
const NOISE_FRAMES = 64 + 1;

/** A wren every ten seconds, and between the wrens leaves that nobody labelled. */
const frames = drawFrames(
  FRAMES,
  (k) => {
    const at = k % 50;
    if (at >= 5 && at < 15) return { x: 2 + 4 * (at - 5), y: 20, size: 9, level: 190 };
    return at === 30 || at === 32 ? { x: 40, y: 4, size: 8, level: 150 } : null;
  },
  'readings',
);
const visits = [0, 1, 2].map((i) => ({ start: 10 * i + 0.8, end: 10 * i + 3.2, type: 'animal' }));
const foliage = [
  [
    [0.5, 0],
    [1, 0],
    [1, 0.4],
    [0.5, 0.4],
  ],
];

beforeAll(async () => {
  await writeClip(
    join(folder, 'clip'),
    frames,
    { version: 1, visits, foliage },
    {
      rate: 5,
      site: 'hedge',
      place: { latitude: 51.5, longitude: -3 },
      conditions: { wind: 1, rain: 0, light: 20_000 },
    },
  );
  const write = (name: string, what: object) => writeFileSync(join(folder, name), JSON.stringify(what));
  const settings = { version: 1, threshold: 18, minimumArea: 16, cooldown: 1 };
  write('camera.json', smallCamera);
  write('settings.json', settings);
  write('suite.json', { version: 1, clips: ['clip'], camera: 'camera.json', settings });
  const hours = Array.from({ length: 6 }, (_, h) => `2027-05-04T${10 + h}:00:00Z,1,0,40`);
  writeFileSync(join(folder, 'day.csv'), ['time,wind,rain,cloud', ...hours].join('\n'));
});

/** How often each of the clip's pictures is decoded while a command runs that finds nothing kept. */
async function decodings(...args: string[]): Promise<number[]> {
  const cache = mkdtempSync(join(folder, 'cache-'));
  const times = new Map<string, number>();
  const own = await decoder();
  const { decode } = own;
  const spy = vi.spyOn(own, 'decode').mockImplementation((bytes) => {
    // Noise tells every picture from the others.
    const picture = createHash('sha256').update(bytes).digest('hex');
    times.set(picture, (times.get(picture) ?? 0) + 1);
    return decode.call(own, bytes);
  });
  try {
    const { code, err } = await commandIn(folder, cache)(...args, '--json');
    // A check may not hold.
    expect(code, err).toBeLessThanOrEqual(1);
    return [...times.values()];
  } finally {
    spy.mockRestore();
  }
}

const camera = ['--camera', 'camera.json'];
const under = [...camera, '--settings', 'settings.json'];
const wish = ['--false-per-hour', '2000'];

describe('nothing reads a clip twice in one command', () => {
  it.each([
    ['replay', 'clip', ...under],
    ['tune', 'clip', ...camera, ...wish, '--recorded-only'],
    ['diagnose', 'clip', ...under],
    ['check', 'suite.json'],
    ['plan', 'clip', '--forecast', 'day.csv', ...camera],
  ])('%s %s', async (...args) => {
    expect(await decodings(...args)).toEqual(Array(FRAMES).fill(1));
  });

  it('but for weather: its sample once more, all kinds at once, and a few frames for the noise', async () => {
    const times = await decodings('tune', 'clip', ...camera, ...wish);
    // The sample of so short a clip is all of it.
    expect(Math.min(...times)).toBe(2);
    expect(times.reduce((sum, n) => sum + n, 0)).toBeLessThanOrEqual(2 * FRAMES + NOISE_FRAMES);
  });
});

const hasFfmpeg = spawnSync('ffmpeg', ['-version']).status === 0;
if (!hasFfmpeg) console.warn('left out: how often a video is read, because ffmpeg is not on the PATH');

it.skipIf(!hasFfmpeg)(
  'a video is read by two runs of ffmpeg, of which one shows that it may reduce',
  async () => {
    const clip = join(folder, 'video');
    mkdirSync(clip);
    const film = ['-f', 'lavfi', '-i', 'testsrc2=size=128x96:rate=5', '-frames:v', '40', '-c:v', 'mpeg4'];
    expect(spawnSync('ffmpeg', ['-v', 'error', ...film, join(clip, 'v.mp4')]).status).toBe(0);
    writeFileSync(join(clip, 'clip.json'), JSON.stringify({ version: 1, frames: 'v.mp4' }));
    const noting = mkdtempSync(join(folder, 'path-'));
    const real = execFileSync('sh', ['-c', 'command -v ffmpeg'], { encoding: 'utf8' }).trim();
    const script = `#!/bin/sh\necho "$*" >> ${noting}/runs\nexec ${real} "$@"\n`;
    writeFileSync(join(noting, 'ffmpeg'), script, { mode: 0o755 });
    vi.stubEnv('PATH', `${noting}:${process.env.PATH}`);
    // A process of its own, for what ffmpeg said of its version is remembered.
    const perchmark = processIn(folder);
    vi.unstubAllEnvs();
    const { code, err } = await perchmark('replay', 'video', ...under, '--json');
    expect(code, err).toBe(0);
    const runs = readFileSync(join(noting, 'runs'), 'utf8').trim().split('\n');
    expect(runs.map((run) => run.includes('-filter_complex'))).toEqual([true, false]);
  },
);
