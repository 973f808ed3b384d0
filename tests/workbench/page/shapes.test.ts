import { expect, it } from 'vitest';
import type { Labels } from '../../../src/score/labels.js';
import {
  addCorner,
  addShape,
  moveCorner,
  removeCorner,
  removeShape,
} from '../../../src/workbench/page/views/mask/shapes.js';

const square: [number, number][] = [
  [0, 0],
  [0.4, 0],
  [0.4, 0.4],
  [0, 0.4],
];
const bare: Labels = { version: 1, visits: [] };
const labels: Labels = { ...bare, mask: [square] };
const first = { kind: 'mask', polygon: 0, corner: 0 } as const;

it('a second polygon stands beside the first, and foliage by itself', () => {
  expect(addShape(labels, 'mask', square).mask).toEqual([square, square]);
  expect(addShape(labels, 'foliage', square)).toEqual({ ...labels, foliage: [square] });
});

it('a corner stays in the picture however far it is pulled', () => {
  expect(moveCorner(labels, first, [-3, 1.2]).mask?.[0]?.[0]).toEqual([0, 1]);
});

it('a corner is added in the middle of the side after it, of the last corner before the first', () => {
  expect(addCorner(labels, first).mask?.[0]).toEqual(square.toSpliced(1, 0, [0.2, 0]));
  expect(addCorner(labels, { ...first, corner: 3 }).mask?.[0]).toEqual([...square, [0, 0.2]]);
});

it('a triangle without a corner is gone, and the last mask takes its field along', () => {
  const triangle = removeCorner(labels, first);
  expect(triangle.mask?.[0]).toHaveLength(3);
  expect(removeCorner(triangle, first)).toEqual(bare);
  expect(removeShape(labels, first)).toEqual(bare);
});
