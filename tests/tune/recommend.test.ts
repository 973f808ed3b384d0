import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { noCounts } from '../../src/score/score.js';
import { truthOf } from '../../src/score/truth.js';
import { setBit, wordsFor } from '../../src/sweep/bits.js';
import { SweepCounts } from '../../src/sweep/counts.js';
import { Grid } from '../../src/sweep/grid.js';
import { blurred } from '../../src/tune/blur.js';
import { chooseBest, keeps } from '../../src/tune/choose.js';
import { poolOf } from '../../src/tune/pool.js';
import { recommend } from '../../src/tune/recommend.js';
import { unseenOf } from '../../src/tune/unseen.js';

const camera = cameraSchema.parse({
  version: 1,
  analysis: { width: 20, height: 10, rate: 5 },
  reference: { kind: 'previous' },
  controls: {
    sensitivity: { sets: 'threshold', from: 1, to: 5, step: 1, gives: [50, 10] },
    small: { sets: 'minimumArea', choices: [1, 2, 4, 8, 16] },
    pause: { sets: 'cooldown', choices: [5] },
  },
});
const grid = new Grid(camera);

/** A swept clip of an hour and so many visits of a second each, with counts as a function of both dials' places. */
function swept(
  visits: number,
  caught: (a: number, b: number) => number,
  falseOf: (a: number, b: number) => number,
) {
  const labels = Array.from({ length: visits }, (_, i) => ({
    start: i * 2,
    end: i * 2 + 1,
    type: 'animal' as const,
  }));
  const counts = new SweepCounts(grid.size, truthOf({ version: 1, visits: labels }, 3600 + visits));
  for (let setting = 0; setting < grid.size; setting++) {
    const [a, b] = [grid.placeOf(setting, 0), grid.placeOf(setting, 1)];
    const hit = caught(a, b);
    const bits = new Uint32Array(wordsFor(visits));
    for (let visit = 0; visit < hit; visit++) setBit(bits, visit);
    counts.set(setting, { ...noCounts, caught: hit, trueTriggers: hit, falseTriggers: falseOf(a, b) }, bits);
  }
  return counts;
}
const places = (setting: number) => [grid.placeOf(setting, 0), grid.placeOf(setting, 1)];

describe('averaging with neighbours', () => {
  it('leaves alone what rises evenly along every dial, ends included', () => {
    const figures = Float64Array.from(
      { length: grid.size },
      (_, i) => 3 * grid.placeOf(i, 0) - 2 * grid.placeOf(i, 1),
    );
    blurred(figures, grid, 1).forEach((x, i) => {
      expect(x).toBeCloseTo(figures[i]!, 9);
    });
  });

  it('spreads a lone figure over its neighbours', () => {
    const at = grid.size >> 1;
    const figures = new Float64Array(grid.size);
    figures[at] = 9;
    const out = blurred(figures, grid, 1);
    expect(out[at]).toBeCloseTo(1, 9);
    expect(out[grid.turned(at, 0, 1) as number]).toBeCloseTo(1, 9);
  });
});

describe('the recommendation', () => {
  it('passes over a setting that is better than all around it by one visit', () => {
    // A plateau of 15 caught on the left, a lone 16 in the poor right-hand part.
    const clip = swept(
      20,
      (a, b) => (a === 4 && b === 2 ? 16 : a < 3 ? 15 : 8),
      () => 0,
    );
    const { setting, best } = recommend(poolOf([clip]), grid, { falsePerHour: 6 });
    expect(places(best)).toEqual([4, 2]);
    expect(places(setting)[0]).toBeLessThan(3);
  });

  it('stands in the middle of a plateau', () => {
    const clip = swept(
      20,
      () => 20,
      () => 0,
    );
    expect(places(recommend(poolOf([clip]), grid, { falsePerHour: 6 }).setting)).toEqual([2, 2]);
  });

  it('takes the first of 200,000 settings that are all alike, for a dial of two positions has no middle', () => {
    const whole = (sets: string, to: number) => ({ sets, from: 1, to, step: 1, gives: [1, to] });
    const wide = new Grid(
      cameraSchema.parse({
        version: 1,
        analysis: { width: 320, height: 240, rate: 5 },
        reference: { kind: 'previous' },
        controls: {
          grey: whole('threshold', 250),
          pause: whole('cooldown', 20),
          small: whole('minimumArea', 20),
          row: whole('persistence', 2),
        },
      }),
    );
    const each = (value: number) => new Float64Array(wide.size).fill(value);
    const [caught, falseTriggers, taken] = [each(5), each(0), each(5)];
    const countsAt = () => ({ ...noCounts, caught: 5, trueTriggers: 5 });
    const alike = {
      size: wide.size,
      visits: 5,
      watchedSeconds: 3600,
      caught,
      falseTriggers,
      taken,
      countsAt,
    };
    expect(wide.size).toBe(200_000);
    expect(recommend(alike, wide, { falsePerHour: 6 }).setting).toBe(0);
  });

  it('keeps away from a cliff of false triggers', () => {
    const clip = swept(
      20,
      () => 15,
      (a) => (a >= 3 ? 60 : 2),
    );
    const { setting } = recommend(poolOf([clip]), grid, { falsePerHour: 6 });
    expect(places(setting)[0]).toBeLessThan(2);
  });

  it('keeps the allowance, or has the fewest false triggers, and gives up at most a visit or 5 % of them', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 50 }), fc.integer({ min: 0, max: 12 })), {
          minLength: grid.size,
          maxLength: grid.size,
        }),
        fc.integer({ min: 0, max: 8 }),
        (all, falsePerHour) => {
          const of = (a: number, b: number) => all[a * 5 + b] as [number, number];
          const clip = swept(
            50,
            (a, b) => of(a, b)[0],
            (a, b) => of(a, b)[1],
          );
          const pool = poolOf([clip]);
          const { setting, best, kept } = recommend(pool, grid, { falsePerHour });
          const fired = pool.falseTriggers[setting]!;
          if (kept) expect(keeps(fired, pool.watchedSeconds, { falsePerHour })).toBe(true);
          else expect(fired).toBe(Math.min(...pool.falseTriggers));
          expect(pool.caught[setting]).toBeGreaterThanOrEqual(pool.caught[best]! - 2);
          expect(best).toBe(chooseBest(pool, { falsePerHour }).setting);
        },
      ),
      { seed: 5, numRuns: 200 },
    );
  });
});

describe('what to expect on footage not seen', () => {
  const alike = {
    whole: swept(
      20,
      () => 15,
      () => 3,
    ),
    blocks: [],
  };
  const ask = (clips: Parameters<typeof unseenOf>[0]) =>
    unseenOf(clips, 0, grid, { falsePerHour: 6 }, recommend);

  it('is close to what clips that are alike show', () => {
    const { how, recall, falsePerHour } = ask([alike, alike, alike]);
    expect(how).toBe('leave one clip out');
    expect(recall?.n).toBe(60);
    expect(recall?.value).toBeCloseTo(0.75, 1);
    expect(recall?.low).toBeLessThan(0.75);
    expect(recall?.high).toBeGreaterThan(0.75);
    expect(falsePerHour?.hours).toBeCloseTo(3, 9);
    expect(falsePerHour?.value).toBeCloseTo(3, 0);
  });

  it('chooses anew without what is left out', () => {
    // Each clip is best served by a setting that catches nothing in the other.
    const one = {
      whole: swept(
        20,
        (a) => (a === 0 ? 20 : 0),
        () => 0,
      ),
      blocks: [],
    };
    const other = {
      whole: swept(
        20,
        (a) => (a === 4 ? 20 : 0),
        () => 0,
      ),
      blocks: [],
    };
    expect(ask([one, other]).recall?.value ?? 0).toBeLessThan(0.3);
  });

  it('is less sure where clips differ than where they are alike, with as many caught', () => {
    const clip = (caught: number) => ({
      whole: swept(
        20,
        () => caught,
        () => 3,
      ),
      blocks: [],
    });
    const width = (caught: number[]) => {
      const { recall } = ask(caught.map(clip));
      return (recall?.high ?? 1) - (recall?.low ?? 0);
    };
    expect(width([6, 14, 6, 14])).toBeGreaterThan(width([10, 10, 10, 10]));
  });

  it('takes blocks of time where there is one clip', () => {
    const block = swept(
      5,
      () => 4,
      () => 1,
    );
    expect(ask([{ whole: alike.whole, blocks: [block, block, block, block] }]).how).toBe('blocks of time');
  });

  it('says that there is too little to tell, and about how many more visits to label', () => {
    const few = {
      whole: swept(
        3,
        () => 2,
        () => 0,
      ),
      blocks: [],
    };
    expect(ask([few, few])).toEqual({
      how: 'too little to tell',
      recall: null,
      falsePerHour: null,
      moreVisits: 4,
    });
    const none = {
      whole: swept(
        0,
        () => 0,
        () => 0,
      ),
      blocks: [],
    };
    expect(ask([none]).moreVisits).toBeGreaterThan(0);
  });
});
