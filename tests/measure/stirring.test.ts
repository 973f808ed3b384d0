import { describe, expect, it } from 'vitest';
import { CELLS } from '../../src/measure/pieces.js';
import { leftUnder, oftenIn, type Stirred } from '../../src/measure/stirring.js';

/** In frame 1 a piece of 30 pixels over cells 4 and 5 and one of 8 in cell 9; in frame 3 one of 10 in cell 5. */
const stirred: Stirred = {
  places: Uint32Array.of(1, 3),
  pieceAt: Uint32Array.of(0, 2, 3),
  cellAt: Uint32Array.of(0, 2, 3, 4),
  cells: Uint8Array.of(4, 5, 9, 5),
  counts: Uint32Array.of(10, 20, 8, 10),
};
const hiding = (...cells: number[]) =>
  Uint8Array.from({ length: CELLS }, (_, c) => Number(cells.includes(c)));

describe('what is left of where a clip changed', () => {
  it.each([
    ['nothing', [], [0, 30, 0, 10]],
    ['a part of a piece', [5], [0, 10, 0, 0]],
    ['the largest piece', [4, 5], [0, 8, 0, 0]],
    ['all', [4, 5, 9], [0, 0, 0, 0]],
  ])('is the largest piece of each frame once a mask hides %s', (_, cells, left) => {
    expect([...leftUnder(stirred, hiding(...cells), 4)]).toEqual(left);
  });
});

it('a piece counts once over all of its cells, in the frames that are asked for', () => {
  const often = oftenIn(stirred, (place) => (place === 1 ? 3 : 0));
  const told = [...often.entries()]
    .filter(([, n]) => n !== 0)
    .map(([cell, n]) => [cell, Number(n.toFixed(9))]);
  expect(told).toEqual([
    [4, 1],
    [5, 2],
    [9, 3],
  ]);
});
