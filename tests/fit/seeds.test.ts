import { expect, it } from 'vitest';
import { seedOf } from '../../src/fit/search/seeds.js';

it('finds a minimum area between the steps of any grid, by what had changed at the fired times', () => {
  const times = Float64Array.from({ length: 60 }, (_, k) => k / 5);
  // Changes of 97 pixels fire, those of 96 do not.
  const column = Uint32Array.from(times, (_, k) => (k % 15 === 7 ? 97 : k % 5 === 0 ? 96 : 3));
  const fired = times.filter((_, k) => k % 15 === 7);
  const columns = { region: new Map([[20, column]]), changed: new Map([[20, column]]) };
  const axes = { kinds: ['region'] as const, levels: [20], persistences: [1, 2], cooldowns: [1] };
  const wanted = { fired, tolerance: { most: 0.5, free: 0.1, span: null }, from: 0, to: 12 };
  expect(seedOf(columns, times, axes, wanted)).toEqual({
    values: { kind: 'region', level: 20, area: 97, persistence: 1, cooldown: 1 },
    own: 1,
  });
});
