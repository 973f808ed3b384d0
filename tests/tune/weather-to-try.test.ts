import { describe, expect, it } from 'vitest';
import { calmestOfEachSite, weatherToTry, windierThan } from '../../src/tune/weather-to-try.js';
import { assumptionNames, assumptionOf } from '../../src/weather/assumptions.js';

describe('weather to try', () => {
  it('is of the kinds that nobody recorded, and only more of it', () => {
    const calm = { wind: 1, rain: 0, light: 20_000 };
    expect(weatherToTry(['wind', 'low light'], calm).map((w) => w.condition)).toEqual(
      expect.arrayContaining(['wind', 'low light']),
    );
    expect(weatherToTry(['calm'], calm)).toEqual([]);
    const windier = weatherToTry(['wind'], { ...calm, wind: 5 });
    expect(new Set(windier.map((w) => w.strength))).toEqual(new Set([6]));
    expect(windier.filter((w) => !w.doubt)).toHaveLength(1);
    expect(weatherToTry(['low light'], { ...calm, light: 10 })).toEqual([]);
  });

  it('is all of a kind where nothing is said of the recording', () => {
    expect(weatherToTry(['rain']).map((w) => w.strength)).toEqual([2, 8]);
  });

  it('is doubted in one thing at a time, each by half and twice as much, where that is wanted', () => {
    const tried = weatherToTry(['wind', 'rain', 'low light'], {}, { doubts: true, scene: { cover: true } });
    const doubted = tried.flatMap(({ doubt, without, condition }) =>
      doubt && !without ? [{ ...doubt, condition }] : [],
    );
    for (const name of assumptionNames) {
      const { weather, also } = assumptionOf(name);
      for (const kind of [weather, also]) {
        if (kind === undefined) continue;
        const of = doubted.filter(({ assumption, condition }) => assumption === name && condition === kind);
        expect(
          of.map((d) => d.times),
          `${name}, ${kind}`,
        ).toEqual([0.5, 2]);
      }
    }
    // The f-number, in rain: it blurs near drops, and the exposure makes streaks.
    expect(doubted.filter(({ assumption }) => assumption === 'aperture')).toHaveLength(4);
    const bare = weatherToTry(['rain'], {}, { doubts: true, scene: { cover: false } });
    const covers = bare.filter(({ doubt }) => doubt && assumptionOf(doubt.assumption).needs === 'cover');
    expect(covers).toEqual([]);
  });

  it('takes the rain apart where it is doubted: none, each part alone, and each left out', () => {
    const parts = (cover: boolean) =>
      weatherToTry(['rain'], {}, { doubts: true, scene: { cover } }).filter(({ without }) => without);
    // Nine parts, of which drops on a cover need one.
    expect(parts(true).map(({ without }) => without!.length)).toEqual([
      9, 8, 1, 8, 1, 8, 1, 8, 1, 8, 1, 8, 1, 8, 1, 8, 1, 8, 1,
    ]);
    expect(parts(false)).toHaveLength(17);
    expect(weatherToTry(['rain']).filter(({ without }) => without)).toEqual([]);
  });

  it('is put onto the calmest clip of each site', () => {
    const at = (name: string, site: string, wind: number) => ({
      name,
      manifest: { site, conditions: { wind } },
    });
    const all = [at('a', 'hedge', 3), at('b', 'hedge', 1), at('c', 'pond', 4)];
    expect(calmestOfEachSite(all).map((c) => c.name)).toEqual(['b', 'c']);
  });

  it('has sway from the windiest recorded clip of the same site, if any is windier', () => {
    const at = (name: string, site: string, wind: number | undefined, simulated = false) => ({
      name,
      manifest: { site, conditions: { wind }, ...(simulated && { simulated: {} }) },
    });
    const calm = at('calm', 'hedge', 1);
    const all = [calm, at('light', 'hedge', 2), at('windy', 'hedge', 3), at('pond', 'pond', 6)];
    expect(windierThan(calm, all)?.name).toBe('windy');
    expect(windierThan(calm, [...all, at('made', 'hedge', 5, true)])?.name).toBe('windy');
    expect(windierThan(at('windy', 'hedge', 3), all)).toBeUndefined();
    expect(windierThan(calm, [calm, at('unsaid', 'hedge', undefined)])).toBeUndefined();
  });
});
