import { expect, it } from 'vitest';
import type { PlanResult } from '../../src/jobs/plan.js';
import { planRests } from '../../src/words/plan-wording.js';

type Told = [weather: string, source: 'recorded' | 'simulated'];

function said(...told: Told[]): string {
  const kinds = told.map(([weather, source]) => ({ weather, source, off: null }));
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
])('of %s a plan says as it should whether such wind was not recorded', (_, told, isSaid) => {
  expect(/such as no clip here is known to be recorded in/.test(said(...told))).toBe(isSaid);
});

it('says how far off simulated hours may be, each kind once, and of which that was not tried', () => {
  const kinds = [
    { weather: 'calm', source: 'recorded', off: null },
    { weather: 'rain', source: 'simulated', off: { low: 0.5, high: 3 } },
    { weather: 'wind, Beaufort 8 or more', source: 'simulated', off: null },
  ];
  const of = { kinds } as unknown as PlanResult['sites'][number];
  const rests = planRests({ awake: { from: 8, until: 20 }, sites: [of, of] } as unknown as PlanResult);
  expect(rests).toMatch(/between 0\.5 and 3 times as often as simulated in rain\. How far off/);
  expect(rests).toMatch(/How far off it may be is not known of wind, Beaufort 8 or more\.$/);
  expect(rests).not.toMatch(/calm/);
});
