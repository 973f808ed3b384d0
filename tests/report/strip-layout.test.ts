import { expect, test } from 'vitest';
import {
  columnMaxima,
  cutToRows,
  drawable,
  lanesOf,
  rowsOf,
  triggerMarks,
} from '../../src/report/figures/strip-layout.js';

test('an hour is broken into rows of ten minutes, a day into a dozen rows', () => {
  expect(rowsOf(3600, 600, 650).starts).toEqual([0, 600, 1200, 1800, 2400, 3000]);
  expect(rowsOf(86_400, 600, 650).starts).toHaveLength(12);
});

test('a short clip takes one row of its own length', () => {
  expect(rowsOf(47, 600, 650)).toMatchObject({ seconds: 47, starts: [0] });
});

test('a peak of one frame survives in its column', () => {
  const rows = rowsOf(100, 600, 650);
  const times = Array.from({ length: 1000 }, (_, k) => k / 10);
  const pixels = times.map((_, k) => (k === 437 ? 900 : 3));
  const points = columnMaxima(times, pixels, rows, 50);
  expect(points).toHaveLength(50);
  // Column 21 of 50 holds 42 to 44 s.
  expect(points.map((p) => p.pixels).indexOf(900)).toBe(21);
});

test('a stretch that runs over the end of a row goes on in the next', () => {
  const rows = rowsOf(1800, 600, 650);
  expect(cutToRows([{ start: 590, end: 1210 }], rows).map(({ row, x1, x2 }) => [row, x1, x2])).toEqual([
    [0, 590, 600],
    [1, 0, 600],
    [2, 0, 10],
  ]);
});

test('triggers too close to be told apart share a mark, unless their verdicts differ', () => {
  const at = (time: number, verdict: 'true' | 'false') => ({ time, photos: [], verdict, visit: null });
  const rows = rowsOf(100, 600, 650);
  const marks = triggerMarks([at(10, 'true'), at(11, 'false'), at(12, 'true'), at(40, 'true')], rows, 5);
  expect(marks.map(({ verdict, times }) => [verdict, times])).toEqual([
    ['true', [10, 12]],
    ['false', [11]],
    ['true', [40]],
  ]);
});

test('names that would overlap take another lane, or none', () => {
  const width = 50;
  expect(
    lanesOf(
      [0, 20, 40, 60].map((x) => ({ x, width })),
      2,
    ),
  ).toEqual([0, 1, null, 0]);
});

test('of more bands than can be drawn the longest of each kind shows in each pixel column', () => {
  const rows = rowsOf(100, 600, 100);
  const many = Array.from({ length: 6000 }, (_, i) => ({
    start: i / 100,
    end: i / 100 + (i === 1234 ? 30 : 0.5),
    caught: i % 2 === 0,
  }));
  const bands = cutToRows(many, rows);
  const kindOf = ({ caught }: { caught: boolean }) => String(caught);
  expect(drawable(bands.slice(0, 5000), 1, kindOf)).toHaveLength(5000);
  const shown = drawable(bands, 1, kindOf);
  expect(shown).toHaveLength(2 * 60);
  expect(shown.some(({ of }) => of === many[1234])).toBe(true);
});
