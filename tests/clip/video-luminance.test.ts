import { execFileSync, spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { type Clip, openClip } from '../../src/clip/open.js';
import { readLuma, tempCache, tempDir, writeFiles } from './fixtures.js';

const missing = spawnSync('ffmpeg', ['-version']).error !== undefined;
if (missing) console.warn('left out: luminance of videos, because ffmpeg is not on the PATH');

const ffmpeg = (...args: string[]) =>
  execFileSync('ffmpeg', ['-v', 'error', '-y', ...args], { maxBuffer: 1 << 28 });

const [WIDTH, HEIGHT, FRAMES] = [192, 108, 40];
const film = `testsrc2=size=${WIDTH}x${HEIGHT}:rate=10,noise=alls=20:allf=t:all_seed=5`;

async function clipOf(name: string, output: string[], source = film): Promise<Clip> {
  const dir = await tempDir();
  ffmpeg('-f', 'lavfi', '-i', source, '-frames:v', String(FRAMES), ...output, join(dir, name));
  await writeFiles(dir, { 'clip.json': { version: 1, frames: name } });
  return openClip(dir, { cache: await tempCache() });
}

/** The luma planes as ffmpeg writes them among raw frames of the stored format, with nothing scaled or converted. */
function planes(clip: Clip, format: string, bytesEach: number): Buffer[] {
  if (clip.source.kind !== 'video') throw new Error('expected a video');
  const raw = ffmpeg(
    '-i',
    clip.source.file,
    '-fps_mode',
    'passthrough',
    '-f',
    'rawvideo',
    '-pix_fmt',
    format,
    '-',
  );
  expect(raw.length).toBe(bytesEach * FRAMES);
  return Array.from({ length: FRAMES }, (_, k) =>
    raw.subarray(k * bytesEach, k * bytesEach + WIDTH * HEIGHT),
  );
}

/** Area average of a plane by the plainest code: every output pixel asks every source pixel how much it covers. */
function reduced(plane: Uint8Array, width: number, height: number, limited: boolean): Uint8Array {
  const covers = (i: number, n: number, from: number, to: number) =>
    Math.max(0, Math.min(i + 1, ((n + 1) * from) / to) - Math.max(i, (n * from) / to));
  const out = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let [sum, area] = [0, 0];
      for (
        let j = Math.floor((y * HEIGHT) / height);
        j < Math.min(HEIGHT, ((y + 1) * HEIGHT) / height);
        j++
      ) {
        for (let i = Math.floor((x * WIDTH) / width); i < Math.min(WIDTH, ((x + 1) * WIDTH) / width); i++) {
          const part = covers(i, x, WIDTH, width) * covers(j, y, HEIGHT, height);
          sum += part * plane[j * WIDTH + i]!;
          area += part;
        }
      }
      const mean = sum / area;
      const level = limited ? ((mean - 16) * 255) / 219 : mean;
      out[y * width + x] = Math.max(0, Math.min(255, Math.floor(level + 0.5 + 1e-9)));
    }
  }
  return out;
}

function differences(a: Uint8Array, b: Uint8Array): { mean: number; most: number } {
  const all = Array.from(a, (value, i) => Math.abs(value - b[i]!));
  return { mean: all.reduce((sum, one) => sum + one, 0) / all.length, most: Math.max(...all) };
}

const h264 = ['-c:v', 'libx264', '-bf', '3', '-g', '15', '-crf', '18'];
const kinds: [string, string, string[], number, boolean][] = [
  ['H.264, BT.709, limited', 'yuv420p', [...h264, '-colorspace', 'bt709', '-color_range', 'tv'], 1.5, true],
  ['H.264, untagged', 'yuv420p', h264, 1.5, true],
  ['H.264, full', 'yuvj420p', [...h264, '-color_range', 'pc'], 1.5, false],
  ['H.264, 4:2:2', 'yuv422p', h264, 2, true],
  [
    'HEVC, BT.709',
    'yuv420p',
    ['-c:v', 'libx265', '-x265-params', 'log-level=none:colormatrix=bt709'],
    1.5,
    true,
  ],
  ['packed, as webcams give it', 'yuyv422', ['-c:v', 'rawvideo'], 2, true],
];

describe.skipIf(missing)('luminance of a video', () => {
  describe.each(kinds)('%s', (_, format, output, bytes, limited) => {
    const name = format === 'yuyv422' ? 'v.avi' : 'v.mp4';
    const made = async () => {
      const clip = await clipOf(name, ['-pix_fmt', format, ...output]);
      const asIs = format === 'yuyv422' ? 'yuv422p' : format;
      return { clip, stored: planes(clip, asIs, WIDTH * HEIGHT * bytes) };
    };

    test('as large as it is stored it is the luma plane to the byte', async () => {
      const { clip, stored } = await made();
      const seen = await readLuma(clip);
      const expected = stored.map((plane) => reduced(plane, WIDTH, HEIGHT, limited));
      expect(seen.every((y, k) => Buffer.from(y).equals(expected[k]!))).toBe(true);
    });

    test.each([
      [96, 54],
      [80, 60],
    ])('reduced to %i x %i it is within a grey level on average', async (width, height) => {
      const { clip, stored } = await made();
      const seen = await readLuma(clip, undefined, { width, height });
      expect(seen).toHaveLength(FRAMES);
      for (const [k, y] of seen.entries()) {
        const { mean, most } = differences(y, reduced(stored[k]!, width, height, limited));
        expect(mean).toBeLessThan(0.05);
        // White beyond the limited range is cut off before rows are averaged, and not after.
        expect(most).toBeLessThanOrEqual(2);
      }
    });

    test('wider but lower than stored it is our own average, to the byte', async () => {
      const { clip, stored } = await made();
      const [y] = await readLuma(clip, [7], { width: 200, height: 50 });
      expect(Buffer.from(y!).equals(reduced(stored[7]!, 200, 50, limited))).toBe(true);
    });
  });

  test('of more than 8 bits it stays within a grey level', async () => {
    const clip = await clipOf('v.mkv', ['-pix_fmt', 'yuv420p10le', '-c:v', 'ffv1']);
    if (clip.source.kind !== 'video') throw new Error('expected a video');
    const raw = ffmpeg('-i', clip.source.file, '-f', 'rawvideo', '-pix_fmt', 'yuv420p10le', '-');
    const plane = (k: number) =>
      Float64Array.from(
        { length: WIDTH * HEIGHT },
        (_, i) => raw.readUInt16LE(3 * WIDTH * HEIGHT * k + 2 * i) / 4,
      );
    for (const size of [
      { width: WIDTH, height: HEIGHT },
      { width: 96, height: 54 },
    ]) {
      const seen = await readLuma(clip, [0, 20], size);
      for (const [i, k] of [0, 20].entries()) {
        const exact = reduced(plane(k) as unknown as Uint8Array, size.width, size.height, true);
        expect(differences(seen[i]!, exact).mean).toBeLessThan(1);
      }
    }
  });

  test('frames that a slower camera skips change nothing of those it sees', async () => {
    const clip = await clipOf('v.mp4', h264);
    const all = await readLuma(clip, undefined, { width: 96, height: 54 });
    for (const indices of [[0, 4, 8, 13, 17, 21, 25, 30, 34, 38], [39], [3, 4, 5, 20], [0, 39]]) {
      const seen = await readLuma(clip, indices, { width: 96, height: 54 });
      expect(seen.map((y) => Buffer.from(y))).toEqual(indices.map((k) => Buffer.from(all[k]!)));
    }
  });
});
