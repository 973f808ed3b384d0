import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import { expect, it } from 'vitest';
import { type Decoder, decoder } from '../../src/clip/decode.js';
import { luminanceFrames, openClip, type StillsSource } from '../../src/clip/open.js';
import { reductionFor } from '../../src/clip/reduction.js';
import { luminance } from '../../src/engine/luminance.js';
import { encode, tempCache, tempDir } from './fixtures.js';

const [width, height] = [480, 272];

/** Bright leaves on dark ground, some pixels each. */
function leaves(): Buffer {
  const random = seedrandom('leaves');
  const pixels = Buffer.alloc(3 * width * height, 60);
  for (let n = 0; n < 4000; n++) {
    const [x, y, r, level] = [random() * width, random() * height, 1 + 2 * random(), 40 + 200 * random()];
    for (let v = Math.max(0, Math.ceil(y - r)); v < Math.min(height, y + r); v++) {
      for (let u = Math.max(0, Math.ceil(x - r)); u < Math.min(width, x + r); u++) {
        if ((u - x) ** 2 + (v - y) ** 2 < r * r)
          pixels.fill(level, 3 * (v * width + u), 3 * (v * width + u) + 3);
      }
    }
  }
  return pixels;
}

// Reduced to 120x68 and averaged again, 80x60 was off by 4 grey levels: what is cut by an edge cannot be told apart any more.
it.each([
  [80, 60],
  [100, 60],
  [120, 68],
  [240, 136],
  [200, 150],
])('JPEGs at %i x %i are within a grey level of the area average of the whole picture', async (w, h) => {
  const dir = await tempDir();
  await mkdir(join(dir, 'frames'));
  const file = join(dir, 'frames', '1.jpg');
  await writeFile(file, await encode(leaves(), width, height).jpeg({ quality: 92 }).toBuffer());
  await writeFile(join(dir, 'clip.json'), '{ "version": 1, "frames": "frames/*.jpg", "rate": 5 }');
  const clip = await openClip(dir, { cache: await tempCache() });
  const { pixels, channels } = await (await decoder('sharp')).decode(await readFile(file));
  const whole = luminance(pixels, channels, width, height, w, h);
  for await (const y of luminanceFrames(clip, [0], { width: w, height: h })) {
    const sum = y.reduce((total, value, i) => total + Math.abs(value - whole[i]!), 0);
    expect(sum / (w * h)).toBeLessThanOrEqual(1);
  }
});

it('decodes each picture that is looked at once, whatever it is held against', async () => {
  const dir = await tempDir();
  const names = ['1.jpg', '2.jpg', '3.jpg'];
  const bytes = await encode(leaves(), width, height).jpeg().toBuffer();
  for (const name of names) await writeFile(join(dir, name), bytes);
  const source: StillsSource = { kind: 'stills', folder: dir, names };
  const real = await decoder('sharp');
  let decoded = 0;
  const tried: number[] = [];
  const by: Decoder = {
    name: 'sharp',
    size: real.size,
    decode: (picture) => {
      decoded++;
      return real.decode(picture);
    },
    // Black, which no picture is held for.
    reduced: async (_, factor) => {
      tried.push(factor);
      const [w, h] = [width / factor, height / factor];
      return { pixels: new Uint8Array(w * h), channels: 1, width: w, height: h };
    },
  };
  expect(await reductionFor(source, { width, height }, { minWidth: 60, minHeight: 34 }, by)).toBe(1);
  expect(tried).toEqual([8, 4, 2]);
  expect(decoded).toBe(1);
});
