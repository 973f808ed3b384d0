import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { noCounts } from '../../src/score/score.js';
import { truthOf } from '../../src/score/truth.js';
import { setBit, wordsFor } from '../../src/sweep/bits.js';
import { SweepCounts } from '../../src/sweep/counts.js';
import { Grid } from '../../src/sweep/grid.js';
import { chooseBest } from '../../src/tune/choose.js';
import { expectedOf } from '../../src/tune/expected.js';
import { type Goal, keeps } from '../../src/tune/goal.js';
import { leaveForVisits } from '../../src/tune/leave-for-visits.js';
import { chanceOfKeeping, hoursToBeSure } from '../../src/tune/overshoot.js';
import { poolOf } from '../../src/tune/pool.js';
import { chanceReached, recommend } from '../../src/tune/recommend.js';
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

describe('an allowance of triggers of any kind', () => {
  const chosen = (goal: Goal, clip: SweepCounts) => {
    const left = leaveForVisits(goal, poolOf([clip]), grid);
    const { setting } = recommend(poolOf([clip]), grid, left);
    return { left, counts: clip.at(setting) };
  };

  // The more sensitive, the more visits and the more false triggers: 4 and 0, 8 and 4, ..., 20 and 16 in an hour.
  it('is kept by false triggers and those at visits together', () => {
    const clip = swept(
      20,
      (a) => 4 * (a + 1),
      (a) => 4 * a,
    );
    const goal = { kind: 'allowance', falsePerHour: 20 } as const;
    const { counts } = chosen(goal, clip);
    expect(counts.falseTriggers + counts.trueTriggers).toBeLessThanOrEqual(20);
    expect(counts.caught).toBeGreaterThan(0);
    const bare = clip.at(recommend(poolOf([clip]), grid, goal).setting);
    expect(bare.falseTriggers + bare.trueTriggers).toBeGreaterThan(20);
  });

  it('is none of false triggers where visits alone take all of it, and stands where there are none', () => {
    const nothing = () => 0;
    expect(
      chosen(
        { kind: 'allowance', falsePerHour: 3 },
        swept(20, () => 20, nothing),
      ).left,
    ).toMatchObject({
      falsePerHour: 0,
    });
    const sure = { kind: 'allowance', falsePerHour: 3, sure: 0.9 } as const;
    expect(chosen(sure, swept(20, nothing, nothing)).left).toEqual(sure);
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
    const { setting, best } = recommend(poolOf([clip]), grid, { kind: 'allowance', falsePerHour: 6 });
    expect(places(best)).toEqual([4, 2]);
    expect(places(setting)[0]).toBeLessThan(3);
  });

  it('stands in the middle of a plateau', () => {
    const clip = swept(
      20,
      () => 20,
      () => 0,
    );
    expect(places(recommend(poolOf([clip]), grid, { kind: 'allowance', falsePerHour: 6 }).setting)).toEqual([
      2, 2,
    ]);
  });

  it('keeps away from a cliff of false triggers', () => {
    const clip = swept(
      20,
      () => 15,
      (a) => (a >= 3 ? 60 : 2),
    );
    const { setting } = recommend(poolOf([clip]), grid, { kind: 'allowance', falsePerHour: 6 });
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
          const { setting, best, kept } = recommend(pool, grid, { kind: 'allowance', falsePerHour });
          const fired = pool.falseTriggers[setting]!;
          if (kept) expect(keeps(fired, pool.watchedSeconds, { falsePerHour })).toBe(true);
          else expect(fired).toBe(Math.min(...pool.falseTriggers));
          expect(pool.caught[setting]).toBeGreaterThanOrEqual(pool.caught[best]! - 2);
          expect(best).toBe(chooseBest(pool, { kind: 'allowance', falsePerHour }).setting);
        },
      ),
      { seed: 5, numRuns: 200 },
    );
  });
});

describe('being sure of an allowance', () => {
  // The more sensitive, the more visits and the more false triggers.
  const clip = swept(
    40,
    (a) => 8 + 8 * a,
    (a) => [0, 1, 3, 6, 20][a] as number,
  );
  const at = (sure?: number) => {
    const goal = { kind: 'allowance' as const, falsePerHour: 6, ...(sure !== undefined && { sure }) };
    return recommend(poolOf([clip]), grid, goal);
  };

  it('gives up visits for it, the more the surer', () => {
    const caught = [0.5, 0.7, 0.9].map((sure) => at(sure).expected.caught);
    expect(caught[1]).toBeLessThanOrEqual(caught[0]!);
    expect(caught[2]).toBeLessThan(caught[0]!);
    expect(at(0.9).expected.falseTriggers).toBeLessThan(3);
  });

  it('changes nothing of what is best on these clips', () => {
    expect(at(0.9).best).toBe(at().best);
  });

  it('takes what keeps it most surely where nothing keeps it surely enough', () => {
    expect(places(at(0.9999999).setting)[0]).toBe(0);
  });
});

describe('being sure of what a recording is too short to show', () => {
  // An hour, in which not even a setting that never fires can be told to keep half a false trigger nine times in ten.
  const goal = { kind: 'allowance', falsePerHour: 0.5, sure: 0.9 } as const;
  const clip = swept(
    40,
    (a) => 8 + 8 * a,
    (a) => [0, 0, 0, 0, 20][a] as number,
  );

  it('does not fall back on what catches least', () => {
    const { setting } = recommend(poolOf([clip]), grid, goal);
    expect(clip.falseTriggers[setting]).toBe(0);
    expect(clip.caught[setting]).toBe(24);
  });

  it('says how long a recording would show it', () => {
    // A negative binomial of mean 1 and 4.5 times its variance: P(X <= 2) = 0.867, P(X <= 3) = 0.919, added up in Python.
    expect(hoursToBeSure(30, 0.9)).toBeCloseTo(3 / 30, 9);
    expect(hoursToBeSure(30, 0.86)).toBeCloseTo(2 / 30, 9);
    expect(hoursToBeSure(0, 0.9)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('being sure of what a recording is just long enough to show', () => {
  // An hour: of three allowed, one that never fires falsely keeps them with 0.919 (as below hoursToBeSure, by Python).
  const goal = { kind: 'allowance', falsePerHour: 3, sure: 0.9 } as const;
  const clip = swept(
    40,
    (a) => 8 + 8 * a,
    (a) => [0, 0, 0, 0.25, 20][a] as number,
  );
  const pool = poolOf([clip]);
  const { setting } = recommend(pool, grid, goal);

  it('takes nothing that is less sure than was asked for', () => {
    expect(chanceOfKeeping(expectedOf(pool, grid), setting, 3)).toBeGreaterThanOrEqual(0.9);
  });

  it('tells how sure what it takes is', () => {
    expect(chanceReached(pool, grid, setting, goal)).toBeGreaterThanOrEqual(0.9);
    expect(chanceReached(pool, grid, setting, { ...goal, falsePerHour: 1 })).toBeLessThan(0.9);
    expect(chanceReached(pool, grid, setting, { kind: 'allowance', falsePerHour: 3 })).toBeNull();
  });
});

describe('a recommendation by worth', () => {
  it('passes over luck, and has no allowance to break', () => {
    const clip = swept(
      20,
      (a, b) => (a === 4 && b === 2 ? 16 : a < 3 ? 15 : 8),
      () => 3,
    );
    const goal = { kind: 'worth' as const, photos: 10, photosPerTrigger: 2 };
    const { setting, best, kept } = recommend(poolOf([clip]), grid, goal);
    expect(kept).toBe(true);
    expect(places(best)).toEqual([4, 2]);
    expect(places(setting)[0]).toBeLessThan(3);
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
    unseenOf(clips, 0, grid, { kind: 'allowance', falsePerHour: 6 }, recommend);

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
      moreVisits: 2,
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
