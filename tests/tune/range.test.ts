import { expect, it } from 'vitest';
import { tuneSite } from '../../src/tune/tune.js';
import { allowance, grid, swept, visits } from './swept.js';

const truth = visits(20);
const calm = {
  clip: 'a',
  conditions: ['calm' as const],
  simulated: false,
  whole: swept(truth, [4, 8, 12, 16, 18], [0, 0, 0, 60, 200]),
  blocks: [],
};
/** Wind of which every setting fires falsely so often in the sample, as it is told. */
function told(...falses: number[]) {
  const sweeps = falses.map((n, i) => ({
    condition: 'wind' as const,
    strength: 4 + i,
    clip: 'a',
    counts: swept(truth, [4, 8, 12, 16, 18], [n, n, n, n, n]),
    off: { low: 0.5, high: 1.1 },
  }));
  const sample = { start: 0, end: 3600 };
  const simulated = { clip: 'a', sweeps, sample, visits: 20, assumed: [], defaults: [], motionless: false };
  const { byCondition } = tuneSite(null, [calm], grid, allowance, [simulated]);
  const wind = byCondition.find(({ condition }) => condition === 'wind');
  return {
    strengths: wind?.strengths?.map(({ range, tooFew }) => [range ? 'range' : range, tooFew]),
    holds: wind?.holds,
  };
}

it('is told only of settings that fire as often as those it was measured at: four times', () => {
  expect(told(3, 4)).toEqual({
    strengths: [
      [null, true],
      ['range', undefined],
    ],
    holds: true,
  });
});

it('says of advice without any range not whether it holds', () => {
  expect(told(0, 3).holds).toBeNull();
});
