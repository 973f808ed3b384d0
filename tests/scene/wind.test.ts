import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { gusts, sway } from '../../src/scene/wind.js';

describe('wind', () => {
  it('falls to 0.5637 of that at 10 m over hedges (log profile, z0 0.25 m), 0.836 B^1.5 there (WMO No. 8, from memory)', () => {
    expect(gusts(4, 10, seedrandom('mean')).mean).toBeCloseTo(6.688 * 0.5637, 3);
  });

  it('blows as strongly on average as its mean, and unevenly', () => {
    const { speed, mean } = gusts(3, 7200, seedrandom('long'));
    const average = speed.reduce((a, b) => a + b, 0) / speed.length;
    expect(average / mean).toBeGreaterThan(0.9);
    expect(average / mean).toBeLessThan(1.12);
    // Turbulence intensity 1/ln(z/z0), form of EN 1991-1-4 from memory: 0.481 at 2 m over hedges.
    const spread = Math.sqrt(speed.reduce((s, v) => s + (v - average) ** 2, 0) / speed.length) / mean;
    expect(spread).toBeGreaterThan(0.38);
    expect(spread).toBeLessThan(0.52);
  });

  // exp(-2 pi zeta / sqrt(1 - zeta^2)) per cycle.
  it.each([
    [0.02, 0.8819],
    [0.05, 0.7301],
    [0.1, 0.5318],
  ])('leaves a branch of damping %f to swing down by %f a cycle', (damping, expected) => {
    const still = { mean: 6, speed: new Float32Array(2000).fill(6) };
    still.speed.fill(0, 400);
    const frames = 200;
    const swing = sway([{ frequency: 0.5, damping, downwind: 0 }], still, frames, 20, seedrandom('decay'));
    const peaks: number[] = [];
    for (let i = 1; i < frames - 1; i++)
      if (swing[i]! > 0 && swing[i]! >= swing[i - 1]! && swing[i]! > swing[i + 1]!) peaks.push(swing[i]!);
    expect(peaks[2]! / peaks[1]!).toBeCloseTo(expected, 2);
  });

  it('moves nothing at Beaufort 0', () => {
    const swing = sway(
      [{ frequency: 1, damping: 0.1, downwind: 1 }],
      gusts(0, 10, seedrandom('a')),
      50,
      5,
      seedrandom('b'),
    );
    expect(swing.every((x) => x === 0)).toBe(true);
  });
});
