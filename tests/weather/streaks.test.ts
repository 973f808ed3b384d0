import { describe, expect, it } from 'vitest';
import { drawStreak, eachPixelOfDot, lightOf, type Streak } from '../../src/weather/rain/streaks.js';

const side = 101;
/** White drops on black, in the middle of a picture. */
function drawn(change: Partial<Streak>): Float32Array {
  const picture = new Float32Array(side * side);
  const s: Streak = { x: 50.5, y: 0, long: 6, wide: 6, share: 1, soft: 12, light: 1, ...change };
  s.y = 50.5 - s.long / 2;
  drawStreak(picture, side, side, s);
  return picture.map((signal) => lightOf(signal));
}
const sumOf = (light: Float32Array) => light.reduce((sum, value) => sum + value, 0);
/** Light so far from the middle, between pixels, to the right, down, and halfway between. */
function around(light: Float32Array, far: number): number[] {
  const at = (x: number, y: number) => {
    const [fx, fy] = [x - Math.floor(x), y - Math.floor(y)];
    const [i, j] = [Math.floor(x), Math.floor(y)];
    const row = (n: number) => light[n * side + i]! * (1 - fx) + light[n * side + i + 1]! * fx;
    return row(j) * (1 - fy) + row(j + 1) * fy;
  };
  return [0, 30, 45, 60, 90, 135, 225, 300].map((degrees) => {
    const way = (degrees * Math.PI) / 180;
    return at(50 + far * Math.cos(way), 50 + far * Math.sin(way));
  });
}

describe('a drop that stands still before the lens', () => {
  // Smaller than its blur, as large, and larger.
  describe.each([6, 24, 48])('%d pixels wide, blurred by 12 to either side', (wide) => {
    const light = drawn({ long: wide, wide });

    it('is round: as bright in every direction', () => {
      for (const part of [0.3, 0.6, 0.9]) {
        const all = around(light, part * (wide / 2 + 12));
        expect(Math.max(...all) - Math.min(...all)).toBeLessThan(0.06 * Math.max(...light));
      }
    });

    it('fades outwards and ends where drop and blur do', () => {
      const outwards = Array.from({ length: 50 }, (_, far) => light[50 * side + 50 + far]!);
      expect(outwards).toEqual(outwards.toSorted((a, b) => b - a));
      expect(around(light, wide / 2 + 14).every((value) => value === 0)).toBe(true);
    });

    // A lens moves light about and loses none: that of a disc, pi / 4 of its width squared.
    it('has the light of its disc', () => {
      expect(sumOf(light) / ((Math.PI / 4) * wide ** 2)).toBeGreaterThan(0.96);
      expect(sumOf(light) / ((Math.PI / 4) * wide ** 2)).toBeLessThan(1.04);
    });
  });

  it('shows what lies behind it where its blur is wider than it is', () => {
    let most = 0;
    const s = { x: 50.5, y: 47.5, long: 6, wide: 6, share: 1, soft: 12, light: 1 };
    eachPixelOfDot(side, side, s, (_, share) => {
      most = Math.max(most, share);
    });
    // Two even discs: the smaller one's area over the larger one's.
    expect(most).toBeCloseTo((3 / 12) ** 2, 3);
  });
});

describe('a drop that falls while the shutter is open', () => {
  // A ball covers each point of its path for its chord there: pi / 4 of its width on average.
  it.each([0, 0.4, 0.7, 3, 9])('has the light of a ball that passes when blurred by %f pixels', (soft) => {
    const light = drawn({ long: 40, wide: 4, soft, share: 0.3 });
    const ball = (Math.PI / 4) * 4;
    expect(sumOf(light) / (0.3 * 40 * ball)).toBeGreaterThan(0.95);
    expect(sumOf(light) / (0.3 * 40 * ball)).toBeLessThan(1.05);
  });

  // Across a long streak a disc lets by what lies along its chords: from the middle on sqrt(1 - x^2).
  it('fades to its sides as a round opening does', () => {
    const light = drawn({ long: 90, wide: 1, soft: 20 });
    const middle = light[50 * side + 50]!;
    for (const off of [5, 10, 15]) {
      expect(light[50 * side + 50 + off]! / middle).toBeCloseTo(Math.sqrt(1 - (off / 20) ** 2), 1);
    }
  });
});
