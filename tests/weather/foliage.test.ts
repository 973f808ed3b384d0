import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { createScene } from '../../src/scene/scene.js';
import { foliageFrom } from '../../src/weather/foliage/foliage.js';
import { FoliageFinder } from '../../src/weather/foliage/foliage-finder.js';
import { drawnScene } from './drawn.js';

describe('foliage as outlined in the labels', () => {
  const square = [
    [0.25, 0.25],
    [0.75, 0.25],
    [0.75, 0.75],
    [0.25, 0.75],
  ] as const;
  const map = foliageFrom([square], 16, 16);
  const at = (x: number, y: number) => map[y * 16 + x]!;

  it('is whole inside and nothing outside', () => {
    expect([at(8, 8), at(5, 5), at(1, 8), at(14, 14)]).toEqual([255, 255, 0, 0]);
  });

  it('fades across the edge within two pixels', () => {
    const row = [2, 3, 4, 5].map((x) => at(x, 8));
    expect(row[0]).toBe(0);
    expect(row[3]).toBe(255);
    expect(row[1]).toBeGreaterThan(0);
    expect(row[2]).toBeGreaterThan(row[1]!);
    expect(row[2]).toBeLessThan(255);
  });
});

const width = 96;
const height = 64;

/** Grey grain; its left half goes to and fro by a pixel where `sways`, and a bright block passes where `passes`. */
function grain(frame: number, { sways, passes }: { sways: boolean; passes: boolean }): Uint8Array {
  const random = seedrandom('grain');
  const ground = Float32Array.from({ length: (width + 2) * height }, () => 70 + 110 * random());
  const y = new Uint8Array(width * height);
  for (let row = 0; row < height; row++) {
    for (let x = 0; x < width; x++) {
      const shift = sways && x < width / 2 ? frame % 2 : 0;
      y[row * width + x] = ground[row * (width + 2) + x + shift]!;
      const block = passes && x > 2 * frame && x < 2 * frame + 8 && row > 40 && row < 50;
      if (block) y[row * width + x] = 250;
    }
  }
  return y;
}

function mapOf(sways: boolean, passes: boolean): { left: number; right: number; path: number } {
  const finder = new FoliageFinder(width, height);
  for (let k = 0; k < 40; k++) finder.see(grain(k, { sways, passes }));
  const map = finder.find().map;
  const mean = (fromX: number, toX: number, fromY = 0, toY = height) => {
    let sum = 0;
    for (let y = fromY; y < toY; y++) for (let x = fromX; x < toX; x++) sum += map[y * width + x]!;
    return sum / ((toX - fromX) * (toY - fromY));
  };
  return {
    left: mean(4, width / 2 - 8),
    right: mean(width / 2 + 8, width - 4),
    path: mean(width / 2 + 8, width - 8, 41, 50),
  };
}

describe('foliage as found in a clip', () => {
  it('is where places change again and again, not where like texture stands still', () => {
    const { left, right } = mapOf(true, false);
    expect(left).toBeGreaterThan(200);
    expect(right).toBeLessThan(left / 2);
  });

  it('does not count what passes once', () => {
    expect(mapOf(true, true).path).toBeLessThan(128);
  });

  it('is nowhere where nothing moves, and asks for outlines of what looks like leaves', () => {
    const finder = new FoliageFinder(width, height);
    for (let k = 0; k < 40; k++) finder.see(grain(k, { sways: false, passes: false }));
    const { map, share, unsure } = finder.find();
    expect(Math.max(...map)).toBe(0);
    expect({ share, unsure }).toEqual({ share: 0, unsure: true });
  });

  it('is nowhere on an even ground', () => {
    const finder = new FoliageFinder(width, height);
    for (let k = 0; k < 10; k++) finder.see(new Uint8Array(width * height).fill(120));
    expect(Math.max(...finder.find().map)).toBe(0);
  });

  it.each([0, 1, 2])('lies mostly within the outlines of drawn scene %i in a fresh breeze', (i) => {
    const scene = createScene(drawnScene(i, 4));
    const finder = new FoliageFinder(scene.width, scene.height);
    for (const y of scene.drawLuminance(0, 40)) finder.see(y);
    const map = finder.find().map;
    const outlines = foliageFrom(scene.labels.foliage ?? [], scene.width, scene.height);
    const sums = { inside: 0, outside: 0, insidePixels: 0, outsidePixels: 0 };
    map.forEach((value, p) => {
      const where = outlines[p]! > 127 ? 'inside' : 'outside';
      sums[where] += value;
      sums[`${where}Pixels`]++;
    });
    expect(sums.inside / sums.insidePixels).toBeGreaterThan((1.7 * sums.outside) / sums.outsidePixels);
  });
});
