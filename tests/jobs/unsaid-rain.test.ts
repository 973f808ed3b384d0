import { expect, it } from 'vitest';
import { unsaidRainText } from '../../src/jobs/diagnose/unsaid-rain.js';

const causes = (...names: ('rain' | 'wind')[]) => names.map((cause) => ({ cause }));

it('asks whether it rained where rain is named and nobody said', () => {
  expect(unsaidRainText('gate', { wind: 3 }, causes('rain', 'wind', 'rain'))).toBe(
    'gate: rain is named 2 times, and nobody noted whether it rained; if it did not, note it in clip.json, "conditions": { "rain": 0 }, and it is ruled out',
  );
  expect(unsaidRainText('gate', undefined, causes('rain'))).toMatch(/^gate: rain is named 1 time,/);
});

it('is silent where rain was noted, or is not named', () => {
  expect(unsaidRainText('gate', { rain: 2 }, causes('rain'))).toBeNull();
  expect(unsaidRainText('gate', undefined, causes('wind'))).toBeNull();
});
