import { expect, it } from 'vitest';
import type { PlanResult } from '../../src/jobs/plan.js';
import { planRests } from '../../src/words/plan-wording.js';

type Told = [weather: string, source: 'recorded' | 'simulated'];

function said(...told: Told[]): string {
  const kinds = told.map(([weather, source]) => ({ weather, source }));
  return planRests({ awake: { from: 8, until: 20 }, sites: [{ kinds }] } as unknown as PlanResult);
}

it.each<[string, Told[], boolean]>([
  ['wind that nobody recorded', [['wind, Beaufort 6 to 7', 'simulated']], true],
  [
    'more wind than was recorded',
    [
      ['wind, Beaufort 4 to 5', 'recorded'],
      ['wind, Beaufort 6 to 7', 'simulated'],
    ],
    true,
  ],
  [
    'rain put onto recorded wind',
    [
      ['wind, Beaufort 4 to 5', 'recorded'],
      ['wind, Beaufort 4 to 5, rain', 'simulated'],
    ],
    false,
  ],
  ['recorded wind', [['wind, Beaufort 4 to 5', 'recorded']], false],
  ['simulated rain', [['rain', 'simulated']], false],
])('of %s a plan says as it should whether wind likely is too lively', (_, told, isSaid) => {
  expect(/fires the camera too often/.test(said(...told))).toBe(isSaid);
});
