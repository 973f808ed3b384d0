import { expect, it } from 'vitest';
import type { SitePlan } from '../../src/jobs/plan.js';
import { walksText, weatherNamed } from '../../src/words/plan-wording.js';

const price = { worth: 10, walk: 20 };
const between = { value: 0.1, low: 0.05, high: 0.2 };

function said(walks: number, allowance: SitePlan['allowance']): string {
  const gain = walks === 0 ? null : { recall: between, photosOfNothing: between, worth: between };
  const week = { walks, gain, worthIt: walks > 0 };
  return walksText({ week, tells: 'hint', visits: 9, clips: ['a'], allowance } as unknown as SitePlan, price);
}

it.each([0, 2])(
  'of %i walks a plan names the allowance where one was asked for, and not a worth',
  (walks) => {
    const within = said(walks, { falsePerHour: 2.8, kept: true });
    expect(within).toContain('within the 2.8 false triggers an hour that are allowed');
    expect(within).not.toContain('photos of nothing and a walk');
    expect(said(walks, null)).toContain('a visit taken to be worth 10 photos of nothing and a walk 20');
  },
);

it('a gentle breeze is not just called calm', () => {
  expect(weatherNamed({ weather: 'calm' })).toBe('calm, to Beaufort 3');
  expect(weatherNamed({ weather: 'wind, Beaufort 4 to 5' })).toBe('wind, Beaufort 4 to 5');
});
