import { execFileSync, spawnSync } from 'node:child_process';
import { readdir, readFile, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { frames, openClip } from '../../src/clip/open.js';
import { keyFramePulse } from '../../src/clip/video-warnings.js';
import { luma, read, readLuma, tempCache, tempDir, writeFiles } from './fixtures.js';

const missing = spawnSync('ffmpeg', ['-version']).error !== undefined;
if (missing) console.warn('left out: reading videos, because ffmpeg is not on the PATH');

const ffmpeg = (...args: string[]) =>
  execFileSync('ffmpeg', ['-v', 'error', '-y', '-bitexact', ...args], { stdio: 'pipe' });

const [width, height] = [64, 48];

/** A clip folder with a video of these raw frames, made by ffmpeg. */
async function videoClip(
  raw: Buffer[],
  format: string,
  output: string[],
  name = 'clip.mkv',
  manifest: object = {},
): Promise<string> {
  const dir = await tempDir();
  await writeFile(join(dir, 'raw'), Buffer.concat(raw));
  const input = [
    '-f',
    'rawvideo',
    '-pix_fmt',
    format,
    '-s',
    `${width}x${height}`,
    '-r',
    '10',
    '-i',
    join(dir, 'raw'),
  ];
  ffmpeg(...input, ...output, join(dir, name));
  await writeFiles(dir, { 'clip.json': { version: 1, frames: name, ...manifest } });
  return dir;
}

/** Frames of planar YUV 4:2:0 whose luma plane is one value each. */
const flat = (...values: number[]) =>
  values.map((value) =>
    Buffer.concat([Buffer.alloc(width * height, value), Buffer.alloc((width * height) / 2, 128)]),
  );

const lossless = ['-c:v', 'ffv1'];
const open = async (dir: string) => openClip(dir, { cache: await tempCache() });

afterEach(() => {
  vi.unstubAllEnvs();
});

describe.skipIf(missing)('with ffmpeg', () => {
  test('limited range is scaled to 0..255', async () => {
    const clip = await open(
      await videoClip(flat(16, 235, 126), 'yuv420p', [...lossless, '-color_range', 'tv']),
    );
    expect((await readLuma(clip)).map(([first]) => first)).toEqual([0, 255, 128]);
  });

  test('it tells how far it is while a video is opened for the first time, to the end', async () => {
    const dir = await videoClip(flat(...Array.from({ length: 50 }, (_, k) => k)), 'yuv420p', lossless);
    const told: number[] = [];
    await openClip(dir, {
      cache: await tempCache(),
      onProgress: (done, total) => told.push(done / total),
    });
    // All bytes are read; then frames are counted, whose packets are most of the file.
    const counted = told.slice(told.indexOf(1) + 1);
    expect(counted).toHaveLength(50);
    expect(counted).toEqual(counted.toSorted((a, b) => a - b));
    expect(counted.at(-1)).toBeGreaterThan(0.5);
    expect(counted.at(-1)).toBeLessThanOrEqual(1);
  });

  test('full range stays as it is', async () => {
    const output = ['-vf', 'scale=in_range=full:out_range=full', ...lossless, '-color_range', 'pc'];
    const clip = await open(await videoClip(flat(16, 235, 126), 'yuvj420p', output));
    expect((await read(clip)).map((f) => f.pixels[0])).toEqual([16, 235, 126]);
  });

  test('untagged grey is full range', async () => {
    const raw = [7, 200].map((value) => Buffer.alloc(width * height, value));
    const clip = await open(await videoClip(raw, 'gray', lossless));
    expect((await read(clip)).map((f) => f.pixels[0])).toEqual([7, 200]);
  });

  test('RGB comes out as it went in', async () => {
    const raw = [Buffer.from(Array.from({ length: width * height * 3 }, (_, i) => (i * 7) % 256))];
    const clip = await open(
      await videoClip(raw, 'rgb24', ['-c:v', 'png', '-pix_fmt', 'rgb24'], 'clip.mkv', { rate: 1 }),
    );
    const [frame] = await read(clip);
    expect(frame).toMatchObject({ channels: 3, width, height });
    expect(Buffer.from(frame!.pixels).equals(raw[0]!)).toBe(true);
  });

  test.each(['bt709', 'smpte170m', 'bt2020nc'])(
    'luma is the stored plane whatever the matrix: %s',
    async (matrix) => {
      // Colours, whose luma by another matrix is far from the stored one.
      const raw = [60, 126, 180].map((value) =>
        Buffer.concat([
          Buffer.alloc(width * height, value),
          Buffer.alloc((width * height) / 4, 110),
          Buffer.alloc((width * height) / 4, 150),
        ]),
      );
      const clip = await open(await videoClip(raw, 'yuv420p', [...lossless, '-colorspace', matrix]));
      // (value - 16) * 255 / 219: 51.23, 128.08, 190.96.
      expect((await readLuma(clip)).map(([first]) => first)).toEqual([51, 128, 191]);
      const pictures = await read(clip);
      expect(pictures.map((f) => f.channels)).toEqual([3, 3, 3]);
      for (const [i, expected] of [51, 128, 191].entries()) {
        expect(Math.abs(luma(pictures[i]!, 0) - expected)).toBeLessThanOrEqual(3);
      }
    },
  );

  test('uneven presentation times and every stored frame are kept', async () => {
    // Frame n at n * n + n tenths of a second: 0, 0.2, 0.6, 1.2, 2.
    const output = ['-vf', "settb=1/1000,setpts='(N*N+N)*100'", '-fps_mode', 'passthrough', ...lossless];
    const values = [20, 60, 100, 140, 180];
    const clip = await open(await videoClip(flat(...values), 'yuv420p', output));
    expect([...clip.times].map((t) => Math.round(t * 1000))).toEqual([0, 200, 600, 1200, 2000]);
    expect(clip.seconds).toBeCloseTo(2.5, 3);
    const expected = values.map((v) => Math.round(((v - 16) * 255) / 219));
    expect((await readLuma(clip)).map(([first]) => first)).toEqual(expected);
  });

  test('a given rate changes times, never the frames', async () => {
    const output = ['-vf', "settb=1/1000,setpts='(N*N+N)*100'", '-fps_mode', 'passthrough', ...lossless];
    const clip = await open(await videoClip(flat(20, 60, 100), 'yuv420p', output, 'clip.mkv', { rate: 2 }));
    expect([...clip.times]).toEqual([0, 0.5, 1]);
    expect(await read(clip)).toHaveLength(3);
  });

  test('only frames asked for come, and stopping early ends ffmpeg', async () => {
    const values = Array.from({ length: 100 }, (_, i) => 20 + i);
    const clip = await open(await videoClip(flat(...values), 'yuv420p', lossless));
    expect((await read(clip, [3, 50])).map((f) => f.index)).toEqual([3, 50]);
    for await (const frame of frames(clip, [0, 1, 2], { minWidth: 1, minHeight: 1 })) {
      expect(frame.index).toBe(0);
      break;
    }
    const stop = new AbortController();
    const reading = async () => {
      const options = { minWidth: 1, minHeight: 1, signal: stop.signal };
      for await (const _ of frames(
        clip,
        values.map((_, i) => i),
        options,
      ))
        stop.abort();
    };
    await expect(reading()).rejects.toThrow(/abort/);
  });

  test('a turned video is read as it is stored', async () => {
    const dir = await videoClip(flat(20, 60), 'yuv420p', ['-c:v', 'mpeg4'], 'upright.mp4');
    const turn = ['-i', join(dir, 'upright.mp4'), '-c', 'copy', '-metadata:s:v', 'rotate=90'];
    ffmpeg(...turn, join(dir, 'clip.mp4'));
    await writeFiles(dir, { 'clip.json': { version: 1, frames: 'clip.mp4' } });
    const clip = await open(dir);
    expect(clip).toMatchObject({ width, height });
    expect((await read(clip)).map((f) => f.width)).toEqual([width, width]);
  });

  test('key frames are known, from the cache too', async () => {
    const dir = await videoClip(
      flat(20, 60, 90, 100, 110, 120),
      'yuv420p',
      ['-c:v', 'mpeg4', '-g', '3', '-sc_threshold', '1000000000'],
      'clip.mp4',
    );
    const cache = await tempCache();
    const [first, second] = [await openClip(dir, { cache }), await openClip(dir, { cache })];
    expect([...first.keyFrames!]).toEqual([0, 3]);
    expect(second).toEqual(first);
  });

  test('a digit turned in the kept times of frames changes nothing', async () => {
    const dir = await videoClip(flat(20, 60, 90), 'yuv420p', lossless);
    const cache = await tempCache();
    const first = await openClip(dir, { cache });
    const folder = cache.path('probe', (await readdir(cache.path('probe')))[0]!);
    const file = join(folder, (await readdir(folder))[0]!);
    const kept = await readFile(file);
    const at = kept.indexOf('"times":[0,0.1');
    expect(at).toBeGreaterThan(0);
    kept[at + '"times":[0,0.1'.length - 1] = '9'.charCodeAt(0);
    await writeFile(file, kept);
    expect((await openClip(dir, { cache })).times).toEqual(first.times);
  });

  test('strong compression brings a warning, weak compression none', async () => {
    const random = seedrandom('noise');
    const noisy = Array.from({ length: 12 }, () =>
      Buffer.from(Array.from({ length: (width * height * 3) / 2 }, () => 100 + random() * 40)),
    );
    const still = flat(...Array.from({ length: 60 }, () => 126));
    const mpeg4 = (q: string) => ['-vf', 'scale=320:240', '-c:v', 'mpeg4', '-q:v', q, '-g', '60'];
    const strong = await open(await videoClip(still, 'yuv420p', mpeg4('31'), 'clip.mp4'));
    const weak = await open(await videoClip(noisy, 'yuv420p', mpeg4('2'), 'clip.mp4'));
    expect(strong.warnings).toEqual([expect.stringMatching(/clip\.mp4: the video is strongly compressed/)]);
    expect(weak.warnings).toEqual([]);
  });

  test.each([
    ['a text file', async (file: string) => writeFile(file, 'no video'), /not a video that ffprobe can read/],
    ['an empty file', async (file: string) => writeFile(file, ''), /the file is empty/],
    [
      'half an MP4',
      async (file: string) => {
        const whole = await readFile(file);
        await writeFile(file, whole.subarray(0, whole.length / 2));
      },
      /not a video that ffprobe can read/,
    ],
  ])('refuses %s', async (_, harm, message) => {
    const dir = await videoClip(flat(20, 60), 'yuv420p', ['-c:v', 'mpeg4'], 'clip.mp4');
    await harm(join(dir, 'clip.mp4'));
    await expect(open(dir)).rejects.toMatchObject({
      code: 'bad-video',
      message: expect.stringMatching(message),
    });
  });

  test.each([3, 5])('a count of %i frames that ffmpeg does not confirm is refused', async (counted) => {
    const clip = await open(await videoClip(flat(20, 60, 90, 100), 'yuv420p', lossless));
    if (clip.source.kind !== 'video') throw new Error('expected a video');
    const wrong = { ...clip, source: { ...clip.source, frames: counted } };
    const indices = Array.from({ length: counted }, (_, i) => i);
    await expect(read(wrong, indices)).rejects.toMatchObject({
      code: 'bad-video',
      message: expect.stringContaining(`decoded 4 frames, but ffprobe counted ${counted}`),
    });
  });

  test('times for stills are refused for a video', async () => {
    const dir = await videoClip(flat(20, 60), 'yuv420p', lossless, 'clip.mkv', { times: 'names' });
    await expect(open(dir)).rejects.toThrow(/times: "names" is for stills/);
  });
});

test('without ffmpeg the message says how to install it', async () => {
  const dir = await tempDir();
  await writeFiles(dir, { 'clip.json': { version: 1, frames: 'clip.mp4' }, 'clip.mp4': 'x' });
  vi.stubEnv('PATH', dir);
  await expect(open(dir)).rejects.toMatchObject({
    code: 'needs-ffmpeg',
    message: expect.stringMatching(/^ffprobe is not on the PATH.*sudo apt install ffmpeg/),
  });
});

test('refuses a video in a folder that links out of the clip', async () => {
  const [dir, elsewhere] = [await tempDir(), await tempDir()];
  await writeFiles(elsewhere, { 'clip.mp4': 'x' });
  await symlink(elsewhere, join(dir, 'out'));
  await writeFiles(dir, { 'clip.json': { version: 1, frames: 'out/clip.mp4' } });
  await expect(open(dir)).rejects.toMatchObject({ code: 'leaves-folder' });
});

test('a missing video and a folder in its place are told apart', async () => {
  const dir = await tempDir();
  await writeFiles(dir, { 'clip.json': { version: 1, frames: 'clip.mp4' }, 'frames/1.jpg': 'x' });
  await expect(open(dir)).rejects.toThrow(/there is no file .*clip\.mp4/);
  await writeFiles(dir, { 'clip.json': { version: 1, frames: 'frames' } });
  await expect(open(dir)).rejects.toThrow(
    /"frames" is a folder; expected a pattern such as "frames\/\*\.jpg"/,
  );
});

describe('key frame pulse', () => {
  const keyFrames = Uint32Array.from([0, 10, 20, 30, 40, 50]);
  const indices = Array.from({ length: 60 }, (_, i) => i);
  const changed = (atKeys: number, otherwise: number) =>
    indices.map((i) => (i % 10 === 0 ? atKeys : otherwise));

  test('is seen where key frames change more than the others', () => {
    expect(keyFramePulse({ keyFrames }, changed(500, 100), indices)).toMatch(
      /500 changed pixels there, 100 otherwise/,
    );
  });

  test('is not seen where they change alike, by little, or too few are known', () => {
    expect(keyFramePulse({ keyFrames }, changed(150, 100), indices)).toBeNull();
    expect(keyFramePulse({ keyFrames }, changed(15, 1), indices)).toBeNull();
    expect(keyFramePulse({ keyFrames: keyFrames.subarray(0, 3) }, changed(500, 100), indices)).toBeNull();
    expect(keyFramePulse({}, changed(500, 100), indices)).toBeNull();
  });

  test('is seen at the first analysed frame after a key frame that was skipped', () => {
    const some = indices.filter((i) => i % 3 === 2);
    const late = some.map((i) => (i % 10 < 3 && i > 3 ? 500 : 100));
    expect(keyFramePulse({ keyFrames }, late, some)).toMatch(/pulses/);
  });
});
