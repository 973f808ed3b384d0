import { expect, it } from 'vitest';
import { darknessText } from '../../src/words/plan-wording.js';

const stretch = (hours: number, conditions: ('low light' | 'wind')[]) => ({
  ...{ from: '2026-05-04T20:00:00Z', to: '2026-05-04T23:00:00Z', weather: '', hours, conditions },
  ...{ controls: { sensitivity: 5 }, source: null, recall: null, falsePerHour: null, photosPerHour: null },
});

it('dark hours of which nothing is known are told with what would tell of them', () => {
  const told = darknessText({
    hours: { ofUse: 12, tooDark: 0, notTold: 5 },
    limit: null,
    placeKnown: true,
    stretches: [stretch(3, ['low light']), stretch(2, ['wind'])],
  });
  expect(told).toBe(
    'Of 5 hours nothing is known. In 3 of them it is dusk, dawn or night: a labelled clip recorded at dusk tells of the dim ones, and simulated light from when on the camera is blind.',
  );
});

it('of hours that are not known for their wind nothing is said of darkness', () => {
  const told = darknessText({
    hours: { ofUse: 12, tooDark: 0, notTold: 2 },
    limit: null,
    placeKnown: true,
    stretches: [stretch(2, ['wind'])],
  });
  expect(told).toBe('Of 2 hours nothing is known.');
});
