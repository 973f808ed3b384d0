import { describe, expect, it } from 'vitest';
import { calmestOfEachSite, weatherToTry } from '../../src/tune/weather-to-try.js';

describe('weather to try', () => {
  it('is of the kinds that nobody recorded, and only more of it', () => {
    const calm = { wind: 1, rain: 0, light: 20_000 };
    expect(weatherToTry(['wind', 'low light'], calm).map((w) => w.condition)).toEqual(
      expect.arrayContaining(['wind', 'low light']),
    );
    expect(weatherToTry(['calm'], calm)).toEqual([]);
    expect(weatherToTry(['wind'], { ...calm, wind: 5 }).map((w) => w.strength)).toEqual([6]);
    expect(weatherToTry(['low light'], { ...calm, light: 10 })).toEqual([]);
  });

  it('is all of a kind where nothing is said of the recording', () => {
    expect(weatherToTry(['rain']).map((w) => w.strength)).toEqual([2, 8]);
  });

  it('is put onto the calmest clip of each site', () => {
    const at = (name: string, site: string, wind: number) => ({
      name,
      manifest: { site, conditions: { wind } },
    });
    const all = [at('a', 'hedge', 3), at('b', 'hedge', 1), at('c', 'pond', 4)];
    expect(calmestOfEachSite(all).map((c) => c.name)).toEqual(['b', 'c']);
  });
});
