import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, describe, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { luminanceFrames, openClip } from '../../src/clip/open.js';
import { weather } from '../../src/jobs/weather.js';
import { Cache } from '../../src/store/cache.js';

const folder = mkdtempSync(join(tmpdir(), 'simulated-noise-'));
const cache = new Cache(join(folder, 'cache'));
afterAll(() => rmSync(folder, { recursive: true }));

const analysis = { width: 320, height: 240 };
const camera = { ...defaultCamera, analysis: { ...analysis, rate: 5, smooth: 1 } };
const GREYS = [10, 25, 50, 80, 110, 140, 170, 200, 230, 250];
const FRAMES = 12;

/** Stripes of even grey, the same in each frame. */
async function stripes(width: number, height: number): Promise<string> {
  const dir = join(folder, `${width}x${height}`);
  mkdirSync(join(dir, 'frames'), { recursive: true });
  const grey = Uint8Array.from(
    { length: width * height },
    (_, i) => GREYS[Math.floor((GREYS.length * (i % width)) / width)]!,
  );
  for (let k = 0; k < FRAMES; k++) {
    await sharp(grey, { raw: { width, height, channels: 1 } })
      .png({ compressionLevel: 1 })
      .toFile(join(dir, 'frames', `${k}.png`));
  }
  const conditions = { light: 20_000 };
  writeFileSync(
    join(dir, 'clip.json'),
    JSON.stringify({ version: 1, frames: 'frames/*.png', rate: 5, conditions }),
  );
  return dir;
}

/** Mean and standard deviation of the grey level of each stripe, as the camera sees them; edges of stripes left out. */
async function seen(dir: string): Promise<{ mean: number; deviation: number }[]> {
  const clip = await openClip(dir, { cache });
  const sums = GREYS.map(() => ({ n: 0, sum: 0, squares: 0 }));
  const wide = analysis.width / GREYS.length;
  // The first frame has no frame before it to be mixed with.
  const indices = Array.from({ length: FRAMES - 1 }, (_, k) => k + 1);
  for await (const y of luminanceFrames(clip, indices, analysis)) {
    y.forEach((value, i) => {
      const x = i % analysis.width;
      const along = x % wide;
      if (along < 3 || along >= wide - 3) return;
      const of = sums[Math.floor(x / wide)]!;
      of.n++;
      of.sum += value;
      of.squares += value * value;
    });
  }
  return sums.map(({ n, sum, squares }) => ({
    mean: sum / n,
    deviation: Math.sqrt(squares / n - (sum / n) ** 2),
  }));
}

/**
 * What 20 lux make of a grey level, by the model's own words and none of its code: EMVA 1288 R3.1 (from memory), variance
 * K^2 sd^2 + K mu with 4300 electrons full well, 8 of read noise and eightfold gain, for 960 elements read across
 * 320 pixels and colours of BT.601 weights; the exposure of ISO 2720 at f/2.8 and 1/30 s; the curve of sRGB (IEC 61966-2-1);
 * rounded to whole grey levels.
 */
function asked(grey: number): { mean: number; deviation: number } {
  const linear = (s: number) => (s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4);
  const signal = (l: number) => (l <= 0.0031308 ? 12.92 * l : 1.055 * l ** (1 / 2.4) - 0.055);
  const level = 8 / 30 / ((2.5 * 2.8 ** 2) / 20);
  const light = linear(grey / 255) * level;
  const k = (8 * 255) / 4300;
  const variance = ((k * k * 64 + k * 255 * light) * (0.299 ** 2 + 0.587 ** 2 + 0.114 ** 2)) / 9;
  const sigma = Math.sqrt(variance) / 255;
  let [weight, sum, squares] = [0, 0, 0];
  for (let z = -6; z <= 6; z += 0.001) {
    const w = Math.exp((-z * z) / 2);
    const value = Math.round(255 * signal(Math.min(1, Math.max(0, light + z * sigma))));
    weight += w;
    sum += w * value;
    squares += w * value * value;
  }
  const mean = sum / weight;
  return { mean, deviation: Math.sqrt(squares / weight - mean * mean) };
}

describe('a clip simulated to 20 lux, after decoding at 320x240', () => {
  it.each([
    [320, 240],
    [640, 480],
    [800, 600],
    [1280, 960],
    [1920, 1440],
  ])('has the noise that the model asks for when it is stored at %dx%d', async (width, height) => {
    const dir = `${await stripes(width, height)}-dusk`;
    const from = dir.replace('-dusk', '');
    const { simulated } = await weather({ clip: from, dir, to: { light: 20 }, camera }, { cache });
    expect(simulated.assumed?.join()).toMatch(/sensor noise assumed.*alike to the last grey level/);
    const found = await seen(dir);
    GREYS.forEach((grey, i) => {
      const [has, wants] = [found[i]!, asked(grey)];
      expect.soft(has.deviation / wants.deviation, `deviation at ${grey}`).toBeGreaterThan(0.95);
      expect.soft(has.deviation / wants.deviation, `deviation at ${grey}`).toBeLessThan(1.05);
      expect.soft(Math.abs(has.mean - wants.mean), `mean at ${grey}`).toBeLessThan(1);
    });
  });
});
