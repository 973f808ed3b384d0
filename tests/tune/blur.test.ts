import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { cameraSchema } from '../../src/camera/description.js';
import { Grid } from '../../src/sweep/grid.js';
import { blurred } from '../../src/tune/blur.js';
import { recommend } from '../../src/tune/recommend.js';

const grid = new Grid(
  cameraSchema.parse({
    version: 1,
    analysis: { width: 20, height: 10, rate: 5 },
    reference: { kind: 'previous' },
    controls: {
      sensitivity: { sets: 'threshold', from: 1, to: 5, step: 1, gives: [50, 10] },
      small: { sets: 'minimumArea', choices: [1, 2, 4, 8, 16] },
      pause: { sets: 'cooldown', choices: [5] },
    },
  }),
);
const at = (a: number, b: number) => a * 5 + b;
/** What is left of a lone figure of 9 where it stands. */
const leftOf = (setting: number) => {
  const figures = new Float64Array(grid.size);
  figures[setting] = 9;
  return blurred(figures, grid, 1)[setting]!;
};

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
    const figures = new Float64Array(grid.size);
    figures[at(2, 2)] = 9;
    const out = blurred(figures, grid, 1);
    expect(out[at(2, 2)]).toBeCloseTo(1, 9);
    expect(out[at(3, 2)]).toBeCloseTo(1, 9);
  });

  it.each([
    ['the end of one dial', at(0, 2)],
    ['the other end', at(4, 2)],
    ['the ends of both', at(4, 0)],
  ])('takes as much of a lone figure at %s as of one in the middle', (_, setting) => {
    // A little is left where the lone figure itself is taken for a slope.
    expect(leftOf(setting)).toBeLessThan(2 * leftOf(at(2, 2)));
  });
});

describe('with nothing but noise on five dials', () => {
  const five = new Grid(defaultCamera);
  const runs = Array.from({ length: 30 }, (_, run) => {
    const random = seedrandom(`noise ${run}`);
    const caught = Float64Array.from({ length: five.size }, () => {
      let n = 0;
      for (let visit = 0; visit < 24; visit++) if (random() < 0.8) n++;
      return n;
    });
    const falseTriggers = new Float64Array(five.size);
    return recommend(
      {
        size: five.size,
        units: 2,
        visits: 24,
        watchedSeconds: 3600,
        caught,
        own: caught,
        falseTriggers,
        falseSquares: falseTriggers,
        taken: caught,
        countsAt: () => {
          throw new Error('not asked for');
        },
      },
      five,
      { kind: 'allowance', falsePerHour: 6 },
    );
  });
  const mean = (of: (run: (typeof runs)[number]) => number) =>
    runs.reduce((sum, run) => sum + of(run), 0) / runs.length;

  it('is hardly more often at the ends of dials than chance', () => {
    const isEnd = (setting: number, d: number) =>
      [0, five.dials[d]!.positions.length - 1].includes(five.placeOf(setting, d));
    const chance = five.dials.reduce((sum, { positions }) => sum + 2 / positions.length, 0);
    expect(mean(({ setting }) => five.dials.filter((_, d) => isEnd(setting, d)).length)).toBeLessThan(
      chance + 0.5,
    );
  });

  it('expects about what is true', () => {
    // 19.2 of 24; the best of 2,700 smoothed figures lies above it.
    expect(mean(({ expected }) => expected.caught)).toBeLessThan(20);
    expect(mean(({ expected }) => expected.caught)).toBeGreaterThan(19);
  });
});
