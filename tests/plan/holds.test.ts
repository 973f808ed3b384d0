import { describe, expect, it } from 'vitest';
import { comingOf, type Evidence, groundOf } from '../../src/plan/evidence.js';
import { weekHoldsWithin } from '../../src/plan/holds.js';
import { kindOf } from '../../src/plan/kind.js';
import { poolOf } from '../../src/tune/pool.js';
import { allowance, grid, swept, visits } from '../tune/swept.js';

const caught = [4, 8, 12, 16, 18];
const whole = swept(visits(20), caught, [0, 1, 4, 60, 200]);
const wind = (source: Evidence['source'], off?: Evidence['off']): Evidence => ({
  kind: kindOf(5, 0, 'bright'),
  source,
  clips: ['calm'],
  parts: [{ whole, blocks: [] }],
  ...(off !== undefined && { off }),
});
const by = {
  coming: comingOf(poolOf([whole])),
  grid,
  goal: { ...allowance, photos: 10, photosPerTrigger: 1 },
};
/** Setting 2 in wind: left for all hours, or gone to by a walk. */
const holds = (evidence: Evidence, change = false) =>
  weekHoldsWithin(
    {
      one: change ? 4 : 2,
      worthIt: change,
      chosenFor: new Map([[2, [{ ground: groundOf(evidence), hours: 6, bounds: [] }]]]),
    },
    by,
  );

describe.each([
  ['one setting', false],
  ['a setting walked to', true],
])('%s for hours of simulated weather', (_, change) => {
  it('holds where it keeps the allowance at the upper end, and not where it breaks it', () => {
    expect(holds(wind('simulated', { low: 0.5, high: 1.2 }), change)).toBe(true);
    expect(holds(wind('simulated', { low: 0.5, high: 3 }), change)).toBe(false);
  });

  it('does not where none that fired falsely may be some', () => {
    const none = {
      ...wind('simulated', { low: 0.5, high: 100 }),
      parts: [{ whole: swept(visits(20), caught, [0, 0, 0, 0, 0]), blocks: [] }],
    };
    expect(holds(none, change)).toBe(false);
  });

  it('does not where at the lower end settings that catch more would keep it', () => {
    expect(holds(wind('simulated', { low: 0.05, high: 1.2 }), change)).toBe(false);
  });

  it('cannot be told where how far off is not known, nor of what was recorded', () => {
    expect(holds(wind('simulated', null), change)).toBeNull();
    expect(holds(wind('simulated'), change)).toBeNull();
    expect(holds(wind('recorded'), change)).toBeNull();
  });
});

it('what only bounds false triggers counts as well', () => {
  const hours = [
    {
      ground: groundOf(wind('recorded')),
      hours: 6,
      bounds: [groundOf(wind('simulated', { low: 0.5, high: 3 }))],
    },
  ];
  expect(weekHoldsWithin({ one: 2, worthIt: false, chosenFor: new Map([[2, hours]]) }, by)).toBe(false);
});
