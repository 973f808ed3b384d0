import { describe, expect, it } from 'vitest';
import type { SweepCounts } from '../../src/sweep/counts.js';
import { gainOfChanging } from '../../src/tune/gain.js';
import { poolOf } from '../../src/tune/pool.js';
import { recommend } from '../../src/tune/recommend.js';
import { adviseOnWeather, type SimulatedSweep, weatherGroups } from '../../src/tune/weather.js';
import type { Condition } from '../../src/weather/conditions.js';
import { allowance, grid, swept, visits } from './swept.js';

describe('what changing with the weather adds', () => {
  const choose = (parts: readonly SweepCounts[]) => recommend(poolOf(parts), grid, allowance).setting;
  /** Clips whose visits begin at times of their own. */
  const clips = (kind: Condition, n: number, caught: number[], falses: number[] = [0, 0, 0, 0, 0]) =>
    Array.from({ length: n }, (_, i) => ({
      conditions: [kind],
      clip: `${kind} ${i}`,
      counts: swept(visits(20), caught, falses),
    }));

  it('is the mean over kinds of weather of the share of visits gained, on footage left out', () => {
    // Calm clips are served best by the last setting, windy ones by the first; one for all is in between.
    const units = [...clips('calm', 4, [0, 4, 12, 16, 20]), ...clips('wind', 4, [20, 16, 12, 4, 0])];
    const gain = gainOfChanging(units, choose);
    expect(gain?.value).toBeGreaterThan(0.3);
    expect(gain?.low).toBeGreaterThan(0);
  });

  it('is nothing where every choice was luck', () => {
    // Each clip has a setting of its own that catches a few more, and no kind of weather has one.
    const lucky = (kind: Condition, i: number) => ({
      conditions: [kind],
      clip: `${kind} ${i}`,
      counts: swept(
        visits(20),
        [0, 1, 2, 3, 4].map((setting) => (setting === i ? 14 : 10)),
        [0, 0, 0, 0, 0],
      ),
    });
    const units = [lucky('calm', 0), lucky('calm', 4), lucky('wind', 1), lucky('wind', 3)];
    expect(gainOfChanging(units, choose)?.low).toBeLessThan(0);
    expect(gainOfChanging(units, choose)?.value).toBeLessThan(0.05);
  });

  it('counts visits that several units show once', () => {
    const strengths = (n: number) =>
      Array.from({ length: n }, () => clips('wind', 4, [20, 16, 12, 4, 0])).flat();
    const width = (n: number) => {
      const gain = gainOfChanging([...clips('calm', 4, [0, 4, 12, 16, 20]), ...strengths(n)], choose);
      return (gain?.high ?? 0) - (gain?.low ?? 0);
    };
    expect(width(5)).toBeGreaterThan(0.9 * width(1));
  });

  it('is null with one kind of weather, a kind of one unit, or no visits', () => {
    const calm = clips('calm', 4, [0, 4, 12, 16, 20]);
    expect(gainOfChanging(calm, choose)).toBeNull();
    expect(gainOfChanging([...calm, ...clips('wind', 1, [20, 16, 12, 4, 0])], choose)).toBeNull();
    const empty = clips('wind', 2, []).map((unit) => ({
      ...unit,
      counts: swept(visits(0), [0, 0, 0, 0, 0], [0, 0, 0, 0, 0]),
    }));
    expect(gainOfChanging([...calm, ...empty], choose)).toBeNull();
  });
});

describe('kinds of weather', () => {
  const calm = {
    clip: 'calm',
    conditions: ['calm' as const],
    simulated: false,
    whole: swept(visits(20), [4, 8, 12, 16, 18], [0, 0, 0, 2, 4]),
    blocks: [],
  };
  const truth = visits(20);
  const wind = (strength: number, caught: number[], falses: number[]): SimulatedSweep => ({
    condition: 'wind',
    clip: 'calm',
    strength,
    counts: swept(truth, caught, falses),
  });
  const asAssumed = [
    wind(4, [4, 8, 12, 16, 18], [0, 0, 4, 60, 200]),
    wind(6, [4, 8, 12, 16, 18], [0, 1, 6, 90, 300]),
  ];

  it('that nobody recorded are simulated, and those recorded are not', () => {
    const windy = {
      clip: 'windy',
      conditions: ['wind' as const],
      simulated: false,
      whole: calm.whole,
      blocks: [],
    };
    const both = weatherGroups([calm, windy], asAssumed, grid, allowance);
    expect(both.map((g) => [g.condition, g.source])).toEqual([
      ['calm', 'recorded'],
      ['wind', 'recorded'],
    ]);
    const one = weatherGroups([calm], asAssumed, grid, allowance);
    expect(one.map((g) => [g.condition, g.source, g.parts.length])).toEqual([
      ['calm', 'recorded', 1],
      ['wind', 'simulated', 2],
    ]);
  });

  it('get one setting that keeps the allowance over all of them, and a verdict on changing', () => {
    const groups = weatherGroups([calm], asAssumed, grid, allowance);
    const { one, gain, worthIt } = adviseOnWeather(groups, grid, allowance);
    expect(one).toBeLessThan(3);
    // One sample of one clip: nothing can be left out.
    expect(gain).toBeNull();
    expect(worthIt).toBe(false);
  });

  it('split a clip into blocks where it is the only one of its kind', () => {
    const blocks = [swept(visits(4), [1, 2, 3, 3, 3], [0, 0, 0, 0, 0]), swept(visits(0), [], [])];
    const windy = { ...calm, clip: 'windy', conditions: ['wind' as const], blocks };
    const second = { ...calm, clip: 'second' };
    const groups = weatherGroups([calm, second, windy], [], grid, allowance);
    expect(groups.map(({ condition, units }) => [condition, units.length])).toEqual([
      ['calm', 2],
      ['wind', 2],
    ]);
  });
});
