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

it('breaks where settings that never fired falsely as simulated would break the allowance: none so often is not none', () => {
  // Half a trigger more on both sides: 0 comes to 1 at 3.1 times, to 11.5 at 24 times, and 6 are allowed.
  expect(holds(wind({ low: 0.5, high: 3.1 }, [0, 0, 0, 60, 200]))).toBe(true);
  expect(holds(wind({ low: 0.5, high: 24 }, [0, 0, 0, 60, 200]))).toBe(false);
});

it('asks of settings that broke the allowance as simulated only whether others would be better', () => {
  expect(holds(wind({ low: 0.9, high: 1.2 }, [20, 20, 20, 60, 200]))).toBe(true);
});
