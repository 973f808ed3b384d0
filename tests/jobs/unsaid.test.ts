import { expect, it } from 'vitest';
import { type Noted, unsaidText } from '../../src/jobs/tune/unsaid.js';

const clip = (name: string, recordedIn: Noted['recordedIn'], simulated = false): Noted => ({
  clip: name,
  recordedIn,
  simulated,
});

it('says once for a site what is taken for weather that nobody noted, and where to note it', () => {
  const rainy = clip('bowl-rain', null);
  const lit = clip('bowl-busy', { wind: 2, light: 9000 });
  expect(unsaidText('water bowl', [rainy, lit])).toBe(
    'water bowl: nobody noted it, so no rain in bowl-rain, bowl-busy and daylight in bowl-rain is assumed; if it was otherwise, note it in clip.json (conditions.rain in mm an hour and conditions.light in lux), or on the page under "About this clip"',
  );
  expect(unsaidText(null, [rainy])).toMatch(/so no rain and daylight in bowl-rain is assumed/);
  expect(unsaidText('water bowl', [lit])).not.toMatch(/daylight|light/);
});

it('is silent where all is noted, none of it too, and of clips that were simulated', () => {
  const noted = clip('pile', { rain: 0, light: 40 });
  expect(unsaidText('log pile', [noted, clip('pile-wind', { wind: 6 }, true)])).toBeNull();
});

it('counts many clips instead of naming them all', () => {
  const many = ['a', 'b', 'c', 'd', 'e'].map((name) => clip(name, { light: 9000 }));
  expect(unsaidText(null, many)).toMatch(/^nobody noted it, so no rain in a, b, c and 2 more is assumed/);
});
