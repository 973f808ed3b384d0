import { describe, expect, it } from 'vitest';
import { findMoments, MOST_MOMENTS } from '../../../src/tune/moments/find.js';
import { rowsOf } from '../../../src/tune/moments/rows.js';

/** Areas at levels 10 and 20, frame by frame, one frame a second. */
const evidence = (at10: number[], at20: number[] = at10.map(() => 0)) => ({
  levels: [10, 20],
  times: Float64Array.from(at10.keys()),
  area: new Map([
    [10, Uint32Array.from(at10)],
    [20, Uint32Array.from(at20)],
  ]),
});
const quiet = (n: number) => Array.from({ length: n }, () => 0);

describe('moments', () => {
  it('last while no more than two seconds of rest lie between, with the peak where most dials see it', () => {
    const at10 = [...quiet(3), 5, 0, 9, ...quiet(3), 5, ...quiet(6)];
    const at20 = [...quiet(3), 0, 0, 4, ...quiet(3), 0, ...quiet(6)];
    const { moments, seenBy } = findMoments(evidence(at10, at20), [4, 8]);
    expect(seenBy).toBe(1);
    expect(moments).toEqual([
      { from: 3, to: 5, start: 3, end: 5, peak: 5, peakTime: 5, sizes: [9, 4], level: 20 },
      { from: 9, to: 9, start: 9, end: 9, peak: 9, peakTime: 9, sizes: [5, 0], level: 10 },
    ]);
  });

  it('are cut after ten seconds', () => {
    const at10 = [...Array.from({ length: 15 }, () => 5), ...quiet(15)];
    const { moments } = findMoments(evidence(at10), [4]);
    expect(moments.map(({ start, end }) => [start, end])).toEqual([
      [0, 10],
      [11, 14],
    ]);
  });

  it('leave out what a setting sees that is active in more than two thirds of the frames', () => {
    const at10 = Array.from({ length: 20 }, (_, k) => (k === 6 ? 9 : k % 4 === 3 ? 0 : 5));
    const { moments, seenBy } = findMoments(evidence(at10), [4, 8]);
    expect(seenBy).toBe(2);
    expect(moments.map(({ peak }) => peak)).toEqual([6]);
  });

  it('are no more than can be handled, the largest of them', () => {
    const at10 = Array.from({ length: 4 * (MOST_MOMENTS + 50) }, (_, k) =>
      k % 4 === 0 ? (k < 200 ? 5 : 6) : 0,
    );
    const { moments } = findMoments(evidence(at10), [4]);
    expect(moments).toHaveLength(MOST_MOMENTS);
    expect(moments.every(({ sizes }) => sizes[0] === 6)).toBe(true);
  });
});

describe('rows', () => {
  const alike = (n: number, sizes: (i: number) => number) =>
    Array.from({ length: n }, (_, i) => ({
      from: i,
      to: i,
      start: 10 * i,
      end: 10 * i + 5,
      peak: i,
      peakTime: 10 * i,
      sizes: [sizes(i)],
      level: 10,
    }));

  it('hold one moment each while there are few', () => {
    expect(rowsOf(alike(40, () => 100))).toHaveLength(40);
  });

  it('hold up to six alike that follow one another where there are many', () => {
    const rows = rowsOf(alike(900, (i) => (i < 450 ? 100 : 5000)));
    expect(rows).toHaveLength(150);
    expect(rows[0]!.members).toEqual([0, 1, 2, 3, 4, 5]);
    expect(rowsOf(alike(900, (i) => (i % 2 === 0 ? 100 : 5000)))).toHaveLength(900);
  });
});
