import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { boutBalances } from '../../src/score/bouts.js';
import { rateDifference, recallDifference } from '../../src/score/paired-difference.js';
import { poissonCount } from './poisson-count.js';

describe('the difference of two shares of the same visits', () => {
  // Fagerland, Lydersen & Laake 2014, Statistics in Medicine 33:2850-2875, the airways of 21 children, 95 % (from memory).
  it('has the interval published for a worked example', () => {
    const told = recallDifference({ both: 1, first: 1, second: 7, neither: 12 }, 1.959964);
    expect(told?.value).toBeCloseTo(-6 / 21, 12);
    expect(told?.low).toBeCloseTo(-0.507, 3);
    expect(told?.high).toBeCloseTo(-0.026, 3);
  });

  it('is turned round with the two', () => {
    const one = recallDifference({ both: 9, first: 6, second: 2, neither: 4 });
    const other = recallDifference({ both: 9, first: 2, second: 6, neither: 4 });
    expect(other?.low).toBeCloseTo(-(one?.high ?? 0), 12);
    expect(other?.high).toBeCloseTo(-(one?.low ?? 0), 12);
  });

  it('is narrower where the two agree than where they do not', () => {
    const width = (d: ReturnType<typeof recallDifference>) => (d?.high ?? 0) - (d?.low ?? 0);
    const agreeing = recallDifference({ both: 20, first: 2, second: 2, neither: 16 });
    const apart = recallDifference({ both: 11, first: 11, second: 11, neither: 7 });
    expect(width(agreeing)).toBeLessThan(width(apart));
  });

  it('is null without visits', () => {
    expect(recallDifference({ both: 0, first: 0, second: 0, neither: 0 })).toBeNull();
  });

  it('holds about nine times in ten', () => {
    const random = seedrandom('paired shares');
    const [p, q] = [0.3, 0.12];
    let held = 0;
    for (let run = 0; run < 1500; run++) {
      const table = { both: 0, first: 0, second: 0, neither: 0 };
      for (let visit = 0; visit < 24; visit++) {
        const u = random();
        table[u < 0.4 ? 'both' : u < 0.4 + p ? 'first' : u < 0.4 + p + q ? 'second' : 'neither']++;
      }
      const told = recallDifference(table);
      if (told && told.low <= p - q && told.high >= p - q) held++;
    }
    expect(held / 1500).toBeGreaterThan(0.87);
    expect(held / 1500).toBeLessThan(0.97);
  });
});

describe('the difference of two rates over the same time', () => {
  it('cancels what both have', () => {
    expect(rateDifference([], 2)?.value).toBe(0);
    expect(rateDifference(boutBalances([5, 6, 7], [5.2, 6.2, 7.2]), 2)).toEqual(rateDifference([], 2));
  });

  it('holds at least nine times in ten where triggers come in bouts', () => {
    const random = seedrandom('paired rates');
    const poisson = (mean: number) => poissonCount(mean, random);
    const size = () => 1 + Math.floor(6 * random());
    const truth = 8 * 3.5 - 5 * 3.5;
    let held = 0;
    for (let run = 0; run < 1000; run++) {
      const balances = [
        ...Array.from({ length: poisson(8) }, size),
        ...Array.from({ length: poisson(5) }, () => -size()),
      ];
      const told = rateDifference(balances, 1);
      if (told && told.low <= truth && told.high >= truth) held++;
    }
    expect(held / 1000).toBeGreaterThan(0.87);
    expect(held / 1000).toBeLessThan(0.97);
  });

  it('is null where nothing was watched', () => {
    expect(rateDifference([1], 0)).toBeNull();
  });
});
