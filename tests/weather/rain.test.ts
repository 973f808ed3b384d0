import { describe, expect, it } from 'vitest';
import { defaultGeometry } from '../../src/weather/defaults.js';
import { createRain } from '../../src/weather/rain.js';
import type { Setup } from '../../src/weather/setup.js';
import { makeSetup } from './made.js';

const width = 160;
const height = 120;
/** Stripes, so that what turns shows. */
const stripes = Float32Array.from({ length: width * height }, (_, i) => (((i % width) >> 2) % 2 ? 60 : 150));
/** Nothing but foliage. */
const leaves = new Uint8Array(width * height).fill(255);

function frames(set: Partial<Setup>, count = 20): Float32Array[] {
  const { effect } = createRain(makeSetup(width, height, { foliage: leaves, ...set }));
  return Array.from({ length: count }, (_, k) => {
    const picture = Float32Array.from(stripes);
    effect?.apply(picture, k / 5);
    return picture;
  });
}

/** Pixels that differ by 8 grey levels or more from one frame to the next, on average. */
function moving(seen: Float32Array[], within = (_: number) => true): number {
  let n = 0;
  for (let k = 1; k < seen.length; k++)
    seen[k]!.forEach((v, i) => {
      if (within(i) && Math.abs(v - seen[k - 1]![i]!) >= 8) n++;
    });
  return n / (seen.length - 1);
}

describe('rain', () => {
  it.each([
    ['more rain moves more', { to: { rain: 1 } }, { to: { rain: 4 } }],
    [
      'the rain that is in the recording is not added again',
      { from: { rain: 3 }, to: { rain: 4 } },
      { to: { rain: 4 } },
    ],
    [
      'leaves move more than bare ground',
      { foliage: new Uint8Array(width * height), to: { rain: 2 } },
      { to: { rain: 2 } },
    ],
  ])('%s', (_, less, more) => {
    expect(moving(frames(more))).toBeGreaterThan(1.2 * moving(frames(less)));
  });

  it('does not knock what stands in front of the leaves', () => {
    const left = (i: number) => i % width < width / 2 - 8;
    const calm = { to: { rain: 4 }, inFront: [{ start: 0, end: 10, box: [0, 0, 0.5, 1] as const }] };
    expect(moving(frames(calm), left)).toBeLessThan(0.3 * moving(frames({ to: { rain: 4 } }), left));
  });

  it('takes contrast out of the picture', () => {
    const [picture] = frames({ foliage: new Uint8Array(width * height), to: { rain: 20 } }, 1);
    const spread = (p: Float32Array) => Math.sqrt(p.reduce((s, v) => s + v * v, 0) / p.length - mean(p) ** 2);
    expect(spread(picture!)).toBeLessThan(0.95 * spread(stripes));
  });

  it('leaves drops on a cover that stay from one frame to the next, and blurs behind it', () => {
    const plain = { foliage: new Uint8Array(width * height), to: { rain: 4 } };
    const covered = frames({ ...plain, geometry: { ...defaultGeometry, cover: true } }, 2);
    const bare = frames(plain, 2);
    const edges = (p: Float32Array) => p.reduce((s, v, i) => (i % width ? s + (v - p[i - 1]!) ** 2 : s), 0);
    expect(edges(covered[1]!)).toBeLessThan(0.95 * edges(bare[1]!));
    // Brighter in the same places in both frames.
    const drops = covered.map((p) => lit(p));
    expect(correlation(drops[0]!, drops[1]!)).toBeGreaterThan(0.9);
  });

  it('gives the same values for the same seed, and others for another', () => {
    expect(frames({ to: { rain: 6 } }, 4)).toEqual(frames({ to: { rain: 6 } }, 4));
    expect(frames({ to: { rain: 6 }, seed: 'another' }, 4)).not.toEqual(frames({ to: { rain: 6 } }, 4));
  });

  it('keeps to signal values', () => {
    for (const p of frames({ to: { rain: 60 } }, 5)) {
      expect(p.every((v) => v >= 0 && v <= 255 && !Number.isNaN(v))).toBe(true);
    }
  });

  it.each([
    ['none is wanted', {}],
    ['none is wanted but dry weather', { to: { rain: 0 } }],
    ['the recording has as much', { from: { rain: 4 }, to: { rain: 4 } }],
  ])('is nothing where %s', (_, set) => {
    expect(createRain(makeSetup(width, height, set)).effect).toBeNull();
  });

  it('says that a recording was taken for dry', () => {
    const said = createRain(makeSetup(width, height, { from: {}, to: { rain: 1 } })).assumed.join();
    expect(said).toMatch(/recorded in dry weather/);
  });
});

function mean(p: Float32Array): number {
  return p.reduce((a, b) => a + b, 0) / p.length;
}

/** Averages of whole pairs of stripes: what is left is drops. */
function lit(p: Float32Array): Float32Array {
  const across = width / 8;
  const out = new Float32Array(across * (height / 8));
  p.forEach((v, i) => {
    const at = Math.floor(i / width / 8) * across + Math.floor((i % width) / 8);
    out[at]! += v / 64;
  });
  return out;
}

function correlation(a: Float32Array, b: Float32Array): number {
  const [ma, mb] = [mean(a), mean(b)];
  const sum = (f: (i: number) => number) => a.reduce((s, _, i) => s + f(i), 0);
  return (
    sum((i) => (a[i]! - ma) * (b[i]! - mb)) /
    Math.sqrt(sum((i) => (a[i]! - ma) ** 2) * sum((i) => (b[i]! - mb) ** 2))
  );
}
