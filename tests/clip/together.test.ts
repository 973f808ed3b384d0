import { execFileSync, spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Clip, openClip } from '../../src/clip/open.js';
import { type Look, luminanceTogether } from '../../src/clip/together.js';
import { encode, readLuma, scene, tempCache, tempDir, writeFiles } from './fixtures.js';

const missing = spawnSync('ffmpeg', ['-version']).error !== undefined;
if (missing) console.warn('left out: videos at several sizes, because ffmpeg is not on the PATH');

const FRAMES = 30;
const every = (n: number, from = 0) =>
  Uint32Array.from({ length: Math.ceil((FRAMES - from) / n) }, (_, i) => from + i * n);

/** Sizes as they are stored, reduced alike, reduced otherwise, of odd width, and larger; all frames and some. */
const looks: Look[] = [
  { width: 80, height: 60, indices: every(1) },
  { width: 40, height: 30, indices: every(3) },
  { width: 80, height: 60, indices: every(7, 2) },
  { width: 27, height: 21, indices: every(2, 5) },
  { width: 160, height: 120, indices: every(5) },
  { width: 200, height: 150, indices: every(11) },
  { width: 20, height: 15, indices: new Uint32Array() },
];

async function expectAsAlone(clip: Clip, of: readonly Look[] = looks): Promise<void> {
  const together = of.map(() => [] as Buffer[]);
  for await (const { look, y } of luminanceTogether(clip, of)) together[look]!.push(Buffer.from(y));
  for (const [i, { indices, width, height }] of of.entries()) {
    const alone = await readLuma(clip, indices, { width, height });
    expect(together[i]!.length).toBe(indices.length);
    expect(together[i]!.every((y, k) => y.equals(alone[k]!))).toBe(true);
  }
}

async function stills(ending: 'jpg' | 'png'): Promise<Clip> {
  const dir = await tempDir();
  const files: Record<string, object | string> = {
    'clip.json': { version: 1, frames: `*.${ending}`, rate: 5 },
  };
  for (let i = 0; i < FRAMES; i++) {
    const picture = encode(scene(160, 120, `s${i}`), 160, 120);
    const bytes = await (ending === 'jpg' ? picture.jpeg({ quality: 90 }) : picture.png()).toBuffer();
    files[`${String(i).padStart(3, '0')}.${ending}`] = bytes as unknown as string;
  }
  await writeFiles(dir, files);
  return openClip(dir, { cache: await tempCache() });
}

async function video(name: string, output: string[], manifest: object = {}): Promise<Clip> {
  const dir = await tempDir();
  const film = 'testsrc2=size=160x120:rate=10,noise=alls=20:allf=t:all_seed=5';
  execFileSync('ffmpeg', [
    ...['-v', 'error', '-y', '-f', 'lavfi', '-i', film, '-frames:v', String(FRAMES)],
    ...[...output, join(dir, name)],
  ]);
  await writeFiles(dir, { 'clip.json': { version: 1, frames: name, ...manifest } });
  return openClip(dir, { cache: await tempCache() });
}

describe('several sizes and rates in one reading are to the byte what each is alone', () => {
  test.each(['jpg', 'png'] as const)('stills, %s', async (ending) => {
    await expectAsAlone(await stills(ending));
  });

  test.skipIf(missing).each([
    ['H.264 with frames out of order', 'v.mp4', ['-c:v', 'libx264', '-bf', '3', '-g', '15']],
    ['H.264 of full range', 'v.mp4', ['-pix_fmt', 'yuvj420p', '-color_range', 'pc', '-c:v', 'libx264']],
    ['10 bits', 'v.mkv', ['-pix_fmt', 'yuv420p10le', '-c:v', 'ffv1']],
    ['uneven times', 'v.mkv', ['-vf', 'setpts=N/10/TB+0.03*mod(N\\,3)/TB', '-c:v', 'libx264', '-bf', '0']],
    ['packed, as webcams give it', 'v.avi', ['-pix_fmt', 'yuyv422', '-c:v', 'rawvideo']],
    ['colours without luma', 'v.mkv', ['-pix_fmt', 'bgr0', '-c:v', 'ffv1']],
  ])('video, %s', async (_, name, output) => {
    await expectAsAlone(await video(name, output));
  });

  test.skipIf(missing)('a video without any time of its own', async () => {
    // A bare stream: stacking must not go by times.
    const clip = await video('v.h264', ['-c:v', 'libx264', '-bf', '0', '-f', 'h264'], { rate: 10 });
    await expectAsAlone(clip);
  });

  test.skipIf(missing)('a long video that is whole is not called damaged', async () => {
    const dir = await tempDir();
    const film = ['-f', 'lavfi', '-i', 'testsrc2=size=64x48:rate=10', '-frames:v', '1200'];
    const output = ['-c:v', 'libx264', '-preset', 'ultrafast', join(dir, 'v.mp4')];
    execFileSync('ffmpeg', ['-v', 'error', '-y', ...film, ...output]);
    await writeFiles(dir, { 'clip.json': { version: 1, frames: 'v.mp4' } });
    const told: string[] = [];
    const clip = await openClip(dir, { cache: await tempCache(), onWarning: (line) => told.push(line) });
    const indices = Uint32Array.from({ length: 1200 }, (_, i) => i);
    const sizes = [32, 16].map((width) => ({ width, height: (3 * width) / 4, indices }));
    let frames = 0;
    for await (const _ of luminanceTogether(clip, sizes)) frames++;
    expect(frames).toBe(2400);
    expect(told).toEqual([]);
  });

  test('no look at all reads nothing', async () => {
    const clip = await stills('png');
    const seen = [];
    for await (const one of luminanceTogether(clip, [{ width: 4, height: 4, indices: [] }])) seen.push(one);
    expect(seen).toEqual([]);
  });
});
