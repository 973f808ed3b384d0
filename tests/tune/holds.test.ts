import { expect, it } from 'vitest';
import { holdsWithin } from '../../src/tune/holds.js';
import type { SimulatedSweep } from '../../src/tune/weather.js';
import { allowance, grid, swept, visits } from './swept.js';

const truth = visits(20);
const wind = (off: SimulatedSweep['off'], falses: number[]): SimulatedSweep => ({
  condition: 'wind',
  clip: 'calm',
  strength: 6,
  ...(off !== undefined && { off }),
  counts: swept(truth, [4, 8, 12, 16, 18], falses),
});
const holds = (...sweeps: SimulatedSweep[]) => holdsWithin(2, sweeps, grid, allowance);

it('breaks where the upper end breaks the allowance, and not where that stays within it', () => {
  expect(holds(wind({ low: 0.5, high: 1.2 }, [0, 1, 4, 60, 200]))).toBe(true);
  expect(holds(wind({ low: 0.5, high: 3 }, [0, 1, 4, 60, 200]))).toBe(false);
});

it('breaks where at the lower end settings that catch more would keep it', () => {
  expect(holds(wind({ low: 0.05, high: 1.2 }, [0, 1, 4, 60, 200]))).toBe(false);
});

it('cannot be told where any strength was held against no drawing', () => {
  const near = wind({ low: 0.5, high: 1.2 }, [0, 1, 4, 60, 200]);
  expect(holds(near, wind(null, [0, 1, 4, 60, 200]))).toBeNull();
  expect(holds(wind(undefined, [0, 1, 4, 60, 200]))).toBeNull();
});
