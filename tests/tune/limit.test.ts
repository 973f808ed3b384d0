import { describe, expect, it } from 'vitest';
import { noCounts } from '../../src/score/score.js';
import { truthOf } from '../../src/score/truth.js';
import { SweepCounts } from '../../src/sweep/counts.js';
import { type LitPool, limitOfUse, luxToTry } from '../../src/tune/limit.js';
import { allowance, grid, swept, visits } from './swept.js';

const truth = visits(20);
/** The five settings, the last far beyond the allowance. */
const seen = (caught: number[], falses = [0, 0, 1, 2, 900]): SweepCounts => swept(truth, caught, falses);
const full = [seen([4, 8, 12, 20, 20])];
/** Noise alone catches nothing. */
const dark = [seen([0, 0, 0, 0, 0])];
const at = (lux: number, best: number, falses?: number[]) => ({
  lux,
  counts: [seen([0, 0, 0, best, 20], falses)],
  still: dark,
});

describe('the limit of use', () => {
  it('is the darkest light in which settings within the goal catch half of what is caught in full light', () => {
    const { tells, lux, levels, inFullLight } = limitOfUse(
      full,
      [at(1.25, 4), at(20, 19), at(5, 11)],
      allowance,
    );
    expect(inFullLight).toBe(20);
    expect(levels.map((level) => [level.lux, level.caught])).toEqual([
      [20, 19],
      [5, 11],
      [1.25, 4],
    ]);
    expect(tells).toBe('a limit');
    // Wilson, 90 %: 19 of 20 from 0.80, 11 of 20 from 0.37 to 0.72, 4 of 20 up to 0.38.
    expect(lux).toEqual({ value: 5, low: 1.25, high: 20 });
    expect(levels[1]!.low).toBeCloseTo(0.37, 2);
    expect(levels[1]!.high).toBeCloseTo(0.72, 2);
  });

  it('lies no nearer than between the darkest light that passed and the first that failed', () => {
    const { lux } = limitOfUse(full, [at(5, 20), at(2.5, 20), at(1.25, 0)], allowance);
    expect(lux).toEqual({ value: 2.5, low: 1.25, high: 2.5 });
    // 10 of 20, Wilson 0.33 to 0.67, surely neither.
    expect(limitOfUse(full, [at(5, 20), at(2.5, 10), at(1.25, 0)], allowance).lux).toEqual({
      value: 2.5,
      low: 1.25,
      high: 5,
    });
    expect(limitOfUse(full, [at(5, 0), at(1.25, 0)], allowance).lux).toEqual({
      value: null,
      low: 5,
      high: null,
    });
  });

  it('is of no more than full light gives', () => {
    const dim = [seen([4, 8, 12, 10, 20])];
    const { levels } = limitOfUse(dim, [at(5, 20)], allowance);
    expect(levels[0]).toMatchObject({ caught: 20, share: 1, high: 1 });
  });

  it('does not count what noise alone would have caught', () => {
    const lit = at(5, 18);
    const noise = (caught: number) => ({ ...lit, still: [seen([0, 0, 0, caught, 20])] });
    const caughtWith = (lit: LitPool) => limitOfUse(full, [lit], allowance).levels[0]!.caught;
    expect(caughtWith(noise(0))).toBe(18);
    // The first three of the eighteen.
    expect(caughtWith(noise(3))).toBe(15);
    expect(limitOfUse(full, [noise(18)], allowance).lux.value).toBeNull();
  });

  it('counts of what was caught by luck nothing as seen in spite of noise', () => {
    // Of the first two visits, caught by the fourth setting, noise catches the first; the second was caught by luck.
    const boxed = truthOf(
      {
        version: 1,
        visits: [0, 2].map((start) => ({ start, end: start + 1, type: 'animal', box: [0, 0, 1, 1] })),
      },
      3600,
    );
    const lit = new SweepCounts(grid.size, boxed, true);
    lit.set(3, { ...noCounts, caught: 2, byLuck: 1 }, Uint32Array.of(0b11), Uint32Array.of(0b01));
    const still = new SweepCounts(grid.size, boxed);
    still.set(3, { ...noCounts, caught: 1 }, Uint32Array.of(0b01));
    const { levels } = limitOfUse(full, [{ lux: 5, counts: [lit], still: [still] }], allowance);
    expect(levels[0]!.caught).toBe(0);
  });

  it('surely fails in light in which noise catches what is caught, below half as well', () => {
    const noisy = { ...at(5, 9), still: [seen([0, 0, 0, 8, 20])] };
    // 9 of 20 reach, by Wilson, up to 0.63; one of 20 up to 0.20.
    expect(limitOfUse(full, [noisy, at(1.25, 1)], allowance).lux.low).toBe(5);
  });

  it('does not count settings that break the goal, however much they catch', () => {
    // The fourth fires falsely 7 times in the hour, and 6 are allowed.
    const { levels } = limitOfUse(full, [at(5, 18, [0, 0, 1, 7, 900])], allowance);
    expect(levels[0]!.caught).toBe(0);
  });

  it('counts photos of nothing against settings that are chosen by worth', () => {
    const worth = { kind: 'worth', photos: 10, photosPerTrigger: 1 } as const;
    const bright = [seen([4, 8, 12, 20, 0], [0, 0, 0, 0, 0])];
    // 15 visits at 100 photos of nothing are worth 5 visits, a quarter of 20.
    const { levels, lux } = limitOfUse(bright, [at(5, 15, [0, 0, 0, 100, 900])], worth);
    expect(levels[0]!.share).toBeCloseTo(0.25, 9);
    expect(lux.value).toBeNull();
  });

  it('is none where every light tried is of use', () => {
    expect(limitOfUse(full, [at(5, 19), at(1.25, 18)], allowance)).toMatchObject({
      tells: 'no limit',
      lux: { value: 1.25, low: null, high: 1.25 },
    });
  });

  it('cannot be told from fewer than eight visits, nor where hardly one is caught in full light', () => {
    const few = (n: number, caught: number) => [
      swept(visits(n), [0, 0, caught, caught, caught], [0, 0, 0, 0, 0]),
    ];
    const dim = [{ lux: 5, counts: few(7, 0), still: few(7, 0) }];
    expect(limitOfUse(few(7, 7), dim, allowance).tells).toBe('too little');
    expect(limitOfUse(few(12, 3), dim, allowance).tells).toBe('too little');
    expect(limitOfUse(few(8, 7), dim, allowance).tells).toBe('a limit');
  });
});

describe('the light to try next', () => {
  const levels = (...shares: [lux: number, share: number][]) => ({
    levels: shares.map(([lux, share]) => ({ lux, share, caught: 0, low: share, high: share })),
  });

  it('is first some two stops apart, none of it brighter than the recording', () => {
    const first = luxToTry({ levels: [] }, 20_000);
    for (let i = 1; i < first.length; i++) expect(first[i - 1]! / first[i]!).toBeCloseTo(4, 1);
    expect(luxToTry({ levels: [] }, 2)).toEqual(first.filter((lux) => lux < 2));
  });

  it('is halfway in stops between what is of use and what is not, and then no more', () => {
    expect(luxToTry(levels([5, 1], [1.25, 0]), 20_000)).toEqual([2.5]);
    expect(luxToTry(levels([5, 1], [2.5, 0.8], [1.25, 0]), 20_000)).toEqual([]);
  });

  it('is darker while all is of use, brighter while nothing is, within bounds', () => {
    expect(luxToTry(levels([5, 1], [1.25, 0.9]), 20_000)).toEqual([1.25 / 4]);
    expect(luxToTry(levels([0.03, 1]), 20_000)).toEqual([]);
    expect(luxToTry(levels([5, 0.2], [1.25, 0]), 20_000)).toEqual([20]);
    expect(luxToTry(levels([5, 0.2]), 15)).toEqual([]);
    expect(luxToTry(levels([320, 0.2]), 20_000)).toEqual([]);
  });
});
