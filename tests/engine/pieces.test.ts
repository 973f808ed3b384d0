import { expect, test } from 'vitest';
import { Pieces } from '../../src/engine/pieces.js';

const rows = ['##...#', '..#...', '#....#', '#...##'];
const changed = Uint8Array.from(rows.join(''), (c) => (c === '#' ? 1 : 0));

test('pieces touch at corners, and are given from a size on', () => {
  const sizes = (minimum: number) => {
    const found: number[][] = [];
    new Pieces(6, 4).forEach(changed, minimum, (pixels) => found.push([...pixels].sort((a, b) => a - b)));
    return found;
  };
  expect(sizes(1)).toEqual([[0, 1, 8], [5], [12, 18], [17, 22, 23]]);
  expect(sizes(3)).toEqual([
    [0, 1, 8],
    [17, 22, 23],
  ]);
});

test('the largest piece is that of the pixels at or above a level, asked again and again', () => {
  const difference = Uint8Array.of(9, 7, 0, 8, 9, 9);
  const pieces = new Pieces(6, 1);
  expect([7, 8, 9, 10, 0].map((level) => pieces.largest(difference, level))).toEqual([3, 3, 2, 0, 6]);
});
