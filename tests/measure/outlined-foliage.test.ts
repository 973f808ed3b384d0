import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Clip, openClip } from '../../src/clip/open.js';
import { foliageOf, foliageOfTwo } from '../../src/measure/weather/foliage.js';
import { Cache } from '../../src/store/cache.js';
import { filmed, ground, hedge, height, lines, width } from '../weather/yards.js';

const folder = mkdtempSync(join(tmpdir(), 'outlined-'));
afterAll(() => rmSync(folder, { recursive: true }));
const cache = new Cache(join(folder, 'cache'));

/** A hedge behind painted poles, in pixels, beside gravel; an owner's outline takes in all three. */
const leaves = [20, 60, 150, 200] as const;
const outline = [
  [0.03, 0.2],
  [0.8, 0.2],
  [0.8, 0.9],
  [0.03, 0.9],
];
const poles = lines(0.1, 0.35, 2);

async function clipOf(name: string, reach: number, wind: number): Promise<Clip> {
  const dir = join(folder, name);
  mkdirSync(join(dir, 'frames'), { recursive: true });
  const frames = filmed([ground('gravel', 3, 30), hedge('hedge', leaves, reach), poles], 'film', 4).flat();
  await Promise.all(
    frames.map((y, k) =>
      sharp(y, { raw: { width, height, channels: 1 } })
        .png({ compressionLevel: 1 })
        .toFile(join(dir, 'frames', `${100 + k}.png`)),
    ),
  );
  const clip = { version: 1, frames: 'frames/*.png', rate: 5, conditions: { wind } };
  writeFileSync(join(dir, 'clip.json'), JSON.stringify(clip));
  writeFileSync(join(dir, 'labels.json'), JSON.stringify({ version: 1, visits: [], foliage: [outline] }));
  return openClip(dir, { cache });
}

/** Mean of a map over the poles, over the hedge away from them, and over the gravel that is outlined. */
function meansOf(map: Uint8Array) {
  const painted = new Float32Array(width * height);
  poles(painted, 0);
  const onPole = (x: number, y: number) => painted[y * width + x]! > 200;
  const within = (x: number, y: number, [l, t, r, b]: readonly [number, number, number, number]) =>
    x >= l && x < r && y >= t && y < b;
  const mean = (counts: (x: number, y: number) => boolean) => {
    const there = map.filter((_, i) => counts(i % width, Math.floor(i / width)));
    return there.reduce((sum, value) => sum + value, 0) / there.length;
  };
  return {
    poles: mean((x, y) => within(x, y, [20, 60, 256, 200]) && onPole(x, y)),
    hedge: mean((x, y) => within(x, y, [26, 66, 144, 194]) && ![-6, 0, 6].some((d) => onPole(x + d, y))),
    gravel: mean((x, y) => within(x, y, [165, 60, 250, 200]) && ![-6, 0, 6].some((d) => onPole(x + d, y))),
  };
}

describe('foliage that its owner outlined', () => {
  let calm: Clip;
  let windy: Clip;
  beforeAll(async () => {
    calm = await clipOf('calm', 0.3, 2);
    windy = await clipOf('windy', 4, 4);
  });

  it('spares poles in it that stand still, and says so', async () => {
    const { map, defaults } = await foliageOf(calm, width, height);
    const { poles, hedge, gravel } = meansOf(map);
    expect(poles).toBeLessThan(3);
    expect(hedge).toBeGreaterThan(230);
    // Leaves may well stand still in light air.
    expect(gravel).toBeGreaterThan(250);
    expect(defaults).toEqual([expect.stringMatching(/% of what it outlines stands still/)]);
  });

  it('spares all that wind was not seen to move', async () => {
    const { poles, hedge, gravel } = meansOf((await foliageOf(windy, width, height)).map);
    expect(poles).toBeLessThan(3);
    expect(hedge).toBeGreaterThan(230);
    expect(gravel).toBeLessThan(25);
  });

  it('spares in a calm clip what a windy one of the site shows to stand still', async () => {
    const { poles, hedge, gravel } = meansOf(await foliageOfTwo(calm, windy, { width, height }));
    expect(poles).toBeLessThan(3);
    expect(hedge).toBeGreaterThan(230);
    expect(gravel).toBeLessThan(25);
  });
});
