import { describe, expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { noCounts } from '../../src/score/score.js';
import { type Truth, truthOf } from '../../src/score/truth.js';
import { setBit, wordsFor } from '../../src/sweep/bits.js';
import { SweepCounts } from '../../src/sweep/counts.js';
import { Grid } from '../../src/sweep/grid.js';
import { gainOfChanging } from '../../src/tune/gain.js';
import {
  adviseOnWeather,
  doubtsAboutSway,
  type SimulatedSweep,
  weatherGroups,
} from '../../src/tune/weather.js';

const grid = new Grid(
  cameraSchema.parse({
    version: 1,
    analysis: { width: 20, height: 10, rate: 5 },
    reference: { kind: 'previous' },
    controls: {
      sensitivity: { sets: 'threshold', from: 1, to: 5, step: 1, gives: [50, 10] },
      small: { sets: 'minimumArea', choices: [4] },
      pause: { sets: 'cooldown', choices: [5] },
    },
  }),
);
const allowance = { kind: 'allowance', falsePerHour: 6 } as const;
const visits = (n: number): Truth =>
  truthOf(
    {
      version: 1,
      visits: Array.from({ length: n }, (_, i) => ({
        start: 2 * i,
        end: 2 * i + 1,
        type: 'animal' as const,
      })),
    },
    3600 + n,
  );

/** An hour in which setting s catches the first caught[s] visits and fires falsely so often. */
function swept(truth: Truth, caught: number[], falseTriggers: number[]): SweepCounts {
  const counts = new SweepCounts(grid.size, truth);
  caught.forEach((n, setting) => {
    const bits = new Uint32Array(wordsFor(truth.visits.length));
    for (let visit = 0; visit < n; visit++) setBit(bits, visit);
    counts.set(setting, { ...noCounts, caught: n, falseTriggers: falseTriggers[setting]! }, bits);
  });
  return counts;
}

describe('what changing with the weather adds', () => {
  it('is the mean over kinds of weather of the share of visits gained', () => {
    const calm = swept(visits(40), [10, 20, 30, 30, 30], [0, 0, 0, 0, 0]);
    const wind = swept(visits(40), [20, 20, 10, 0, 0], [0, 0, 0, 0, 0]);
    const gain = gainOfChanging(
      [
        { parts: [calm], setting: 2 },
        { parts: [wind], setting: 0 },
      ],
      1,
    );
    // 10 of 40 in calm weather, none in wind.
    expect(gain?.value).toBeCloseTo(0.125, 9);
    expect(gain?.low).toBeGreaterThan(0);
  });

  it('counts a visit simulated at several strengths once', () => {
    const truth = visits(10);
    const calm = swept(visits(10), [5, 5, 5, 5, 5], [0, 0, 0, 0, 0]);
    const strengths = Array.from({ length: 50 }, () => swept(truth, [6, 5, 5, 5, 5], [0, 0, 0, 0, 0]));
    const gain = (parts: SweepCounts[]) =>
      gainOfChanging(
        [
          { parts: [calm], setting: 1 },
          { parts, setting: 0 },
        ],
        1,
      );
    expect(gain(strengths)).toEqual(gain(strengths.slice(0, 1)));
  });

  it('is not certain where a few visits agree', () => {
    const two = swept(visits(2), [2, 0, 0, 0, 0], [0, 0, 0, 0, 0]);
    const gain = gainOfChanging(
      [
        { parts: [two], setting: 0 },
        { parts: [swept(visits(2), [0, 0, 0, 0, 0], [0, 0, 0, 0, 0])], setting: 0 },
      ],
      1,
    );
    expect((gain?.high ?? 0) - (gain?.low ?? 0)).toBeGreaterThan(0.5);
  });

  it('is null with one kind of weather, or with no visits to pair', () => {
    const calm = swept(visits(4), [1, 1, 1, 1, 1], [0, 0, 0, 0, 0]);
    const empty = swept(visits(0), [0, 0, 0, 0, 0], [0, 0, 0, 0, 0]);
    expect(gainOfChanging([{ parts: [calm], setting: 0 }], 1)).toBeNull();
    expect(
      gainOfChanging(
        [
          { parts: [calm], setting: 0 },
          { parts: [empty], setting: 0 },
        ],
        1,
      ),
    ).toBeNull();
  });
});

describe('kinds of weather', () => {
  const calm = {
    clip: 'calm',
    conditions: ['calm' as const],
    simulated: false,
    whole: swept(visits(20), [4, 8, 12, 16, 18], [0, 0, 0, 2, 4]),
  };
  const truth = visits(20);
  const wind = (sway: number, strength: number, caught: number[], falses: number[]): SimulatedSweep => ({
    condition: 'wind',
    clip: 'calm',
    strength,
    sway,
    counts: swept(truth, caught, falses),
  });
  const asAssumed = [
    wind(1, 4, [4, 8, 12, 16, 18], [0, 0, 4, 60, 200]),
    wind(1, 6, [4, 8, 12, 16, 18], [0, 1, 6, 90, 300]),
  ];

  it('that nobody recorded are simulated, and those recorded are not', () => {
    const windy = { clip: 'windy', conditions: ['wind' as const], simulated: false, whole: calm.whole };
    const both = weatherGroups([calm, windy], asAssumed, grid, allowance);
    expect(both.map((g) => [g.condition, g.source])).toEqual([
      ['calm', 'recorded'],
      ['wind', 'recorded'],
    ]);
    const one = weatherGroups([calm], asAssumed, grid, allowance);
    expect(one.map((g) => [g.condition, g.source, g.parts.length])).toEqual([
      ['calm', 'recorded', 1],
      ['wind', 'simulated', 2],
    ]);
  });

  it('get one setting that keeps the allowance over all of them, and a verdict on changing', () => {
    const groups = weatherGroups([calm], asAssumed, grid, allowance);
    const { one, gain, worthIt } = adviseOnWeather(groups, grid, allowance);
    expect(one).toBeLessThan(3);
    expect(gain).not.toBeNull();
    expect(worthIt).toBe((gain?.low ?? 0) > 0);
  });

  it('says when advice for wind rests on the assumed sway', () => {
    const doubled = wind(2, 5, [4, 8, 12, 16, 18], [3, 40, 90, 200, 400]);
    const halved = wind(0.5, 5, [4, 8, 12, 16, 18], [0, 0, 3, 30, 100]);
    const doubts = doubtsAboutSway(2, [...asAssumed, doubled, halved], grid, allowance);
    expect(doubts.find((d) => d.sway === 2)?.flips).toBe(true);
    expect(doubts.find((d) => d.sway === 0.5)?.flips).toBe(false);
  });
});
