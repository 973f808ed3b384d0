import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { busySeconds, isActive, levelOf, photoTimes, triggersOf } from '../../src/engine/triggers.js';
import { judgeAll } from '../../src/score/replayed.js';
import type { Counts } from '../../src/score/score.js';
import { noCounts } from '../../src/score/score.js';
import { truthOf } from '../../src/score/truth.js';
import { columnsFrom } from '../../src/sweep/columns.js';
import { dialsOf, Grid, thinned } from '../../src/sweep/grid.js';
import { outcomesAt } from '../../src/sweep/outcomes.js';
import { sweepClip } from '../../src/sweep/sweep.js';
import { chooseBest } from '../../src/tune/choose.js';
import { front } from '../../src/tune/front.js';
import { type Goal, hoursToTell, keeps } from '../../src/tune/goal.js';
import { notchesAround } from '../../src/tune/notches.js';
import { conditionsOf } from '../../src/weather/conditions.js';

const camera = cameraSchema.parse({
  version: 1,
  analysis: { width: 20, height: 10, rate: 5 },
  reference: { kind: 'previous' },
  shutterLag: 0.3,
  burst: { photos: 2, interval: 0.5 },
  controls: {
    sensitivity: { sets: 'threshold', from: 1, to: 4, step: 1, gives: [8, 1] },
    small: { sets: 'minimumArea', choices: [1, 5, 20] },
    large: { sets: 'mostChanged', choices: [30, 200] },
    steady: { sets: 'persistence', choices: [1, 2, 3] },
    pause: { sets: 'cooldown', choices: [0, 0.7, 3] },
  },
});
const pooled = (all: readonly Counts[]) => ({
  size: all.length,
  watchedSeconds: 3600,
  caught: Float64Array.from(all, (c) => c.caught),
  falseTriggers: Float64Array.from(all, (c) => c.falseTriggers),
  taken: Float64Array.from(all, (c) => c.falseTriggers + c.trueTriggers),
});
const counts = (caught: number, falseTriggers: number, trueTriggers = caught): Counts => ({
  ...noCounts,
  visits: 10,
  caught,
  falseTriggers,
  trueTriggers,
  watchedSeconds: 3600,
});

describe('the sweep', () => {
  it('equals judging each setting by itself, trigger by trigger', async () => {
    const grid = new Grid(camera);
    expect(grid.size).toBe(4 * 3 * 2 * 3 * 3);
    const frame = fc.record({
      gap: fc.constantFrom(0.1, 0.2, 0.2, 0.2, 1.3),
      // areas at levels 1 .. 8, falling
      region: fc.array(fc.integer({ min: 0, max: 60 }), { minLength: 8, maxLength: 8 }),
      more: fc.integer({ min: 0, max: 100 }),
    });
    const visit = fc.tuple(
      fc.float({ min: 0, max: 8, noNaN: true }),
      fc.float({ min: 0, max: 3, noNaN: true }),
    );
    await fc.assert(
      fc.asyncProperty(
        fc.array(frame, { minLength: 1, maxLength: 60 }),
        fc.array(visit, { maxLength: 4 }),
        visit,
        async (frames, visits, [ignoredFrom, ignoredFor]) => {
          const times = new Float64Array(frames.length);
          for (let k = 1; k < frames.length; k++) times[k] = times[k - 1]! + (frames[k]?.gap ?? 0);
          const falling = frames.map(({ region }) => [...region].sort((a, b) => b - a));
          const at = (k: number, level: number) => falling[k]?.[level - 1] as number;
          const truth = truthOf(
            {
              version: 1,
              visits: visits.map(([start, long]) => ({ start, end: start + long, type: 'animal' })),
              ignored: [{ start: ignoredFrom, end: ignoredFrom + ignoredFor }],
            },
            (times.at(-1) as number) + 0.2,
          );
          const photos = (time: number) => photoTimes(time, 0.3, 2, 0.5);
          const busy = (cooldown: number) => busySeconds(cooldown, 0.3, 2, 0.5);
          const [swept] = await sweepClip(
            {
              times,
              truth,
              outcomes: outcomesAt(times, photos, truth),
              ...columnsFrom((level, kind) =>
                Uint32Array.from(frames, ({ more }, k) => at(k, level) + (kind === 'changed' ? more : 0)),
              ),
            },
            grid,
            { area: 'region', framePixels: 200, busyOf: busy, levelOf },
          );
          for (let setting = 0; setting < grid.size; setting++) {
            const s = grid.settingsAt(setting);
            const level = levelOf(s.threshold);
            const fired = triggersOf(
              times,
              (k) =>
                isActive(at(k, level), at(k, level) + (frames[k]?.more ?? 0), s.minimumArea, s.mostChanged),
              s.persistence,
              busy(s.cooldown),
            ).map((k) => times[k]!);
            const judged = judgeAll(fired, photos, truth);
            expect(swept.at(setting)).toEqual(judged.counts);
            judged.visits.forEach(({ caught }, visit) => {
              expect(swept.caughtVisit(setting, visit)).toBe(caught);
            });
          }
        },
      ),
      { seed: 20260504, numRuns: 40 },
    );
  });
});

describe('the choice', () => {
  it('takes the highest recall within the allowance, then the fewest false triggers', () => {
    const all = [counts(9, 20), counts(7, 3), counts(7, 2), counts(5, 0)];
    expect(chooseBest(pooled(all), { kind: 'allowance', falsePerHour: 6 })).toEqual({
      setting: 2,
      kept: true,
    });
  });

  it('takes the fewest false triggers where nothing keeps the allowance, and says so', () => {
    const all = [counts(9, 20), counts(2, 8), counts(4, 8)];
    expect(chooseBest(pooled(all), { kind: 'allowance', falsePerHour: 6 })).toEqual({
      setting: 2,
      kept: false,
    });
  });

  it('settles what is level by fewer photos, then by the lower number', () => {
    const all = [counts(7, 2, 30), counts(7, 2, 12), counts(7, 2, 12)];
    expect(chooseBest(pooled(all), { kind: 'allowance', falsePerHour: 6 }).setting).toBe(1);
  });

  it('by worth takes whatever is worth most, a photo of nothing for a photo of nothing', () => {
    const worth = (photos: number): Goal => ({ kind: 'worth', photos, photosPerTrigger: 2 });
    const all = [counts(9, 20), counts(7, 3), counts(5, 0)];
    // 90 - 40, 70 - 6, 50; then 9 - 40, 7 - 6, 5; then 900 - 40, 700 - 6, 500.
    expect(chooseBest(pooled(all), worth(10))).toEqual({ setting: 1, kept: true });
    expect(chooseBest(pooled(all), worth(1)).setting).toBe(2);
    expect(chooseBest(pooled(all), worth(100)).setting).toBe(0);
  });

  it('by worth settles what is level by fewer false triggers, fewer photos, then the lower number', () => {
    const worth: Goal = { kind: 'worth', photos: 6, photosPerTrigger: 2 };
    expect(chooseBest(pooled([counts(8, 3), counts(7, 0), counts(8, 3)]), worth).setting).toBe(1);
    expect(chooseBest(pooled([counts(7, 0, 9), counts(7, 0, 8), counts(7, 0, 8)]), worth).setting).toBe(1);
  });

  it('keeps an allowance exactly met', () => {
    expect(keeps(6, 3600, { falsePerHour: 6 })).toBe(true);
    expect(keeps(7, 3600, { falsePerHour: 6 })).toBe(false);
  });

  // Rule of three: Hanley & Lippman-Hand 1983, JAMA 249:1743-1745.
  it('says from how many hours an allowance can be told', () => {
    expect(hoursToTell({ falsePerHour: 6 })).toBe(0.5);
    expect(hoursToTell({ falsePerHour: 0 })).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('the front', () => {
  it('holds only settings that no other beats, in order of falling recall', () => {
    const all = [counts(9, 20), counts(7, 3), counts(7, 5), counts(8, 20), counts(5, 0), counts(5, 1)];
    expect(front(pooled(all))).toEqual([0, 1, 4]);
  });
});

describe('the grid', () => {
  const grid = new Grid(camera);

  it('numbers every combination once', () => {
    const seen = new Set(Array.from({ length: grid.size }, (_, i) => JSON.stringify(grid.controlsAt(i))));
    expect(seen.size).toBe(grid.size);
  });

  it('turns one dial by a notch and no other', () => {
    const from = grid.controlsAt(100);
    for (const notch of notchesAround(grid, 100)) {
      expect(grid.controlsAt(notch.setting)).toEqual({ ...from, [notch.dial]: notch.position });
    }
  });

  it('has no notch beyond an end', () => {
    expect(notchesAround(grid, 0)).toHaveLength(grid.dials.length);
  });

  it('thins to the ends and what lies evenly between', () => {
    const dials = thinned(dialsOf(camera), 48);
    expect(dials.reduce((n, d) => n * d.positions.length, 1)).toBeLessThanOrEqual(48);
    expect(dials[0]?.positions).toEqual([1, 4]);
  });
});

describe('conditions', () => {
  it.each([
    [{ wind: 4 }, ['wind']],
    [{ wind: 3, rain: 0.1 }, ['rain']],
    [{ wind: 5, rain: 2, light: 49 }, ['wind', 'rain', 'low light']],
    [{ wind: 3, rain: 0, light: 50 }, ['calm']],
    [null, []],
  ])('of %j', (given, expected) => {
    expect(conditionsOf(given as never)).toEqual(expected);
  });
});
