import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterEach, describe, expect, test, vi } from 'vitest';
import type { Look } from '../../src/clip/look.js';
import { type Clip, openClip } from '../../src/clip/open.js';
import { videoPictures } from '../../src/clip/video-pictures.js';
import { tempCache, tempDir, writeFiles } from './fixtures.js';

const missing = spawnSync('ffmpeg', ['-version']).error !== undefined;
if (missing) console.warn('left out: pictures of videos, because ffmpeg is not on the PATH');

const COUNT = 60;
/** A moving test picture of ffmpeg's, every frame another, in colour. */
const moving = ['-f', 'lavfi', '-i', `testsrc2=s=96x64:r=10:d=${COUNT / 10}`];

async function clipOf(name: string, output: string[], manifest: object = {}): Promise<Clip> {
  const dir = await tempDir();
  execFileSync('ffmpeg', ['-v', 'error', ...moving, ...output, join(dir, name)], { stdio: 'pipe' });
  await writeFiles(dir, { 'clip.json': { version: 1, frames: name, ...manifest } });
  return openClip(dir, { cache: await tempCache() });
}

const whole: Look = { box: null, width: 96 };

async function pictures(clip: Clip, first: number, count: number, look = whole, signal?: AbortSignal) {
  const { source, width, height, keyFrames } = clip;
  if (source.kind !== 'video') throw new Error('no video');
  const all: Buffer[] = [];
  const video = { source, width, height, keyFrames };
  for await (const jpeg of videoPictures(video, first, count, look, signal)) all.push(Buffer.from(jpeg));
  return all;
}

/** The same without knowing of any key frame, which leaves only reading from the beginning. */
const straight = ({ keyFrames: _, ...clip }: Clip, first: number, count: number) =>
  pictures(clip, first, count);

const h264 = ['-c:v', 'libx264', '-pix_fmt', 'yuv420p', '-preset', 'veryfast'];
const kinds: [string, string, string[]][] = [
  ['H.264 with frames out of order', 'a.mp4', [...h264, '-g', '12', '-bf', '3']],
  [
    'H.264 whose groups lean on one another',
    'a.mkv',
    [...h264, '-g', '12', '-bf', '3', '-x264opts', 'open-gop=1'],
  ],
  [
    'H.264 without key pictures but the first',
    'a.mkv',
    [...h264, '-g', '12', '-x264opts', 'intra-refresh=1'],
  ],
  ['a transport stream, which has no index', 'a.ts', [...h264, '-g', '12']],
  ['H.264 bare', 'a.h264', [...h264, '-g', '12']],
  ['MPEG-4 in AVI', 'a.avi', ['-c:v', 'mpeg4', '-g', '12', '-bf', '2']],
  ['MPEG-2', 'a.mpg', ['-c:v', 'mpeg2video', '-g', '12', '-bf', '2', '-r', '25']],
  ['VP9', 'a.webm', ['-c:v', 'libvpx-vp9', '-g', '12', '-cpu-used', '8', '-deadline', 'realtime']],
  ['pictures each by itself', 'a.mov', ['-c:v', 'mjpeg', '-pix_fmt', 'yuvj420p']],
  [
    'uneven times',
    'a.mkv',
    [
      ...h264,
      '-g',
      '12',
      '-vf',
      'setpts=PTS+0.04*mod(N\\,3)/TB',
      '-fps_mode',
      'passthrough',
      '-enc_time_base',
      '1/1000',
    ],
  ],
  ['a beginning other than 0', 'a.mp4', [...h264, '-g', '12', '-bf', '3', '-output_ts_offset', '7']],
];

afterEach(() => {
  vi.unstubAllEnvs();
});

describe.skipIf(missing)('pictures of a video', () => {
  test.each(kinds)(
    '%s: what is begun at a key frame is what reading straight through gives',
    async (_, name, output) => {
      const clip = await clipOf(name, output, /(h264|avi)$/.test(name) ? { rate: 10 } : {});
      const all = await straight(clip, 0, clip.times.length);
      expect(new Set(all.map(String)).size).toBeGreaterThanOrEqual(COUNT - 2);
      for (const first of [0, 5, 12, 13, 23, 24, 37, all.length - 7]) {
        const count = Math.min(6, all.length - first);
        const found = await pictures(clip, first, count);
        expect(found.map((jpeg, i) => jpeg.equals(all[first + i]!))).toEqual(Array(count).fill(true));
      }
    },
  );

  test('is begun at the key frame before, where that can be', async () => {
    const clip = await clipOf('a.mp4', [...h264, '-g', '12', '-bf', '3']);
    const dir = await tempDir();
    const real = execFileSync('sh', ['-c', 'command -v ffmpeg'], { encoding: 'utf8' }).trim();
    const noting = `#!/bin/sh\necho "$*" >> ${dir}/runs\nexec ${real} "$@"\n`;
    writeFileSync(join(dir, 'ffmpeg'), noting, { mode: 0o755 });
    vi.stubEnv('PATH', `${dir}:${process.env.PATH}`);
    await pictures(clip, 30, 6);
    const runs = readFileSync(join(dir, 'runs'), 'utf8').trim().split('\n');
    expect(runs.at(-1)).toContain('-ss 2.4 ');
  });

  test('a part of a frame, in colour, no larger than it was stored', async () => {
    const clip = await clipOf('a.mkv', [
      '-c:v',
      'ffv1',
      '-vf',
      'format=gbrp,geq=r=255*gt(X\\,47):g=0:b=255*lt(X\\,48)',
    ]);
    const look: Look = { box: [0.5, 0.25, 0.25, 0.5], width: 960 };
    const [jpeg] = await pictures(clip, 30, 1, look);
    const { data, info } = await sharp(jpeg).raw().toBuffer({ resolveWithObject: true });
    expect([info.width, info.height]).toEqual([24, 32]);
    const [r, g, b] = [...data.subarray(3 * (16 * 24 + 12))];
    expect(r).toBeGreaterThan(240);
    expect(Math.max(g!, b!)).toBeLessThan(15);
  });

  test('a run that nobody wants any more ends', async () => {
    const clip = await clipOf('a.mkv', [...h264, '-g', '12']);
    const stop = new AbortController();
    stop.abort(new Error('gone'));
    await expect(pictures(clip, 30, 6, whole, stop.signal)).rejects.toThrow('gone');
  });
});
