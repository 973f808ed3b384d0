import { expect, it } from 'vitest';
import { knobAngle, placeAtAngle } from '../../../src/words/knob.js';
import { placeByKey, placeByPointer } from '../../../src/workbench/page/parts/turning.js';

it.each([
  ['ArrowUp', 4, 5],
  ['ArrowRight', 9, 9],
  ['ArrowDown', 4, 3],
  ['ArrowLeft', 0, 0],
  ['PageUp', 4, 6],
  ['PageDown', 1, 0],
  ['Home', 4, 0],
  ['End', 4, 9],
  ['a', 4, null],
])('%s leads from place %i to %s of ten', (key, from, to) => {
  expect(placeByKey(key, from, 10)).toBe(to);
});

it('a knob points at what it was turned to, whatever the number of positions', () => {
  for (const count of [1, 2, 3, 10, 50]) {
    for (let place = 0; place < count; place++)
      expect(placeAtAngle(count, knobAngle(count, place))).toBe(place);
  }
});

it('in the gap below a knob the nearer end is meant', () => {
  expect([
    placeAtAngle(10, 140),
    placeAtAngle(10, 179),
    placeAtAngle(10, 181),
    placeAtAngle(10, -140),
  ]).toEqual([9, 9, 0, 0]);
});

it('a pointer turns a knob towards it, but drags it over no gap', () => {
  const [up, left, below] = [
    [0, -30],
    [-30, 0],
    [-2, 30],
  ] as const;
  expect(placeByPointer(...up, 2, 11)).toBe(5);
  expect(placeByPointer(...left, 4, 11)).toBe(2);
  // From the last place on down into the gap, and out of it on the other side.
  expect(placeByPointer(...below, 10, 11)).toBe(10);
  expect(placeByPointer(...below, null, 11)).toBe(0);
});
