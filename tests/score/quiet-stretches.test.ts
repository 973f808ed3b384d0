import { expect, it } from 'vitest';
import { random } from '../../src/base/random.js';
import { lookedAt, orderToLook, quietStretches } from '../../src/score/quiet-stretches.js';

it('cuts what lies between moments evenly into pieces of at most 20 s', () => {
  expect(quietStretches([{ start: 10, end: 20 }], 70)).toEqual([
    { start: 0, end: 10 },
    { start: 20, end: 20 + 50 / 3 },
    { start: 20 + 50 / 3, end: 20 + 100 / 3 },
    { start: 20 + 100 / 3, end: 70 },
  ]);
  expect(quietStretches([{ start: 0, end: 5 }], 5)).toEqual([]);
});

it('draws every stretch once, and the first eight from all eight parts of the clip', () => {
  const order = orderToLook(40, random('a seed', 'quiet'));
  expect(order.toSorted((a, b) => a - b)).toEqual(Array.from({ length: 40 }, (_, i) => i));
  const parts = order.slice(0, 8).map((place) => Math.floor(place / 5));
  expect(new Set(parts).size).toBe(8);
  expect(orderToLook(40, random('a seed', 'quiet'))).toEqual(order);
  expect(orderToLook(3, random('a seed', 'quiet'))).toHaveLength(3);
});

const stretches = [
  { start: 0, end: 10 },
  { start: 20, end: 30 },
  { start: 40, end: 50 },
];

it('counts a stretch as seen only where all of it was looked through', () => {
  const reviewed = [
    { start: 0, end: 5 },
    { start: 5, end: 12 },
    { start: 20, end: 29 },
    { start: 40, end: 50 },
  ];
  const visits = [{ start: 44, end: 60 }];
  expect(lookedAt(stretches, [0, 2, 1], reviewed, visits)).toMatchObject({ all: 3, seen: 2, found: 1 });
  expect(lookedAt(stretches, [0, 1, 2], null, [])).toMatchObject({ all: 3, seen: 3, found: 0 });
});

it('takes for a sample only what was looked through as it was drawn, up to the first that was not', () => {
  const firstHalf = [{ start: 0, end: 30 }];
  const sampleOf = (order: number[]) => lookedAt(stretches, order, firstHalf, [{ start: 5, end: 6 }]);
  expect(sampleOf([2, 0, 1])).toMatchObject({ seen: 2, found: 1, drawn: 0, foundInDrawn: 0 });
  expect(sampleOf([1, 2, 0])).toMatchObject({ seen: 2, drawn: 1, foundInDrawn: 0 });
  expect(sampleOf([1, 0, 2])).toMatchObject({ seen: 2, drawn: 2, foundInDrawn: 1 });
  // Set aside, say: neither looked through nor to be.
  expect(sampleOf([1, 0])).toMatchObject({ all: 2, seen: 2 });
});
