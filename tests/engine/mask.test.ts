import { expect, it } from 'vitest';
import { rasterize } from '../../src/engine/mask.js';

type Polygon = [number, number][];
const BOX: Polygon = [
  [0.2, 0.25],
  [0.8, 0.25],
  [0.8, 0.75],
  [0.2, 0.75],
];

function drawn(polygons: Polygon[], width: number, height: number): string[] {
  const mask = rasterize(polygons, width, height);
  return Array.from({ length: height }, (_, y) =>
    [...mask.subarray(y * width, (y + 1) * width)].map((value) => '.#'[value]).join(''),
  );
}

it('masks nothing without polygons', () => {
  expect(drawn([], 3, 2)).toEqual(['...', '...']);
});

it('masks the pixels whose centres lie inside', () => {
  expect(drawn([BOX], 10, 4)).toEqual([
    '..........', //
    '..######..',
    '..######..',
    '..........',
  ]);
});

it('leaves out a pixel that is covered but for its centre', () => {
  const almostHalf: Polygon = [
    [0, 0],
    [0.49, 0],
    [0.49, 1],
    [0, 1],
  ];
  expect(drawn([almostHalf], 3, 1)).toEqual(['#..']);
});

it('follows slanted edges, in either direction of drawing', () => {
  const triangle: Polygon = [
    [0, 0],
    [1, 1],
    [0, 1],
  ];
  const expected = ['.....', '#....', '##...', '###..', '####.'];
  const shifted = triangle.map(([x, y]): [number, number] => [x - 0.01, y]);
  expect(drawn([shifted], 5, 5)).toEqual(expected);
  expect(drawn([shifted.toReversed()], 5, 5)).toEqual(expected);
});

it('takes one polygon by the even-odd rule: a part gone round twice is outside', () => {
  const ring: Polygon = [[0, 0], [1, 0], [1, 1], [0, 1], [0, 0], ...BOX, BOX[0]!];
  expect(drawn([ring], 10, 4)).toEqual([
    '##########', //
    '##......##',
    '##......##',
    '##########',
  ]);
});

it('takes several polygons together: where two overlap is masked', () => {
  const left: Polygon = [
    [0, 0],
    [0.6, 0],
    [0.6, 1],
    [0, 1],
  ];
  expect(drawn([BOX, left], 10, 4)).toEqual([
    '######....', //
    '########..',
    '########..',
    '######....',
  ]);
});

it('cuts at the frame what lies beyond it', () => {
  const beyond: Polygon = [
    [-3, -2],
    [0.5, -2],
    [0.5, 4],
    [-3, 4],
  ];
  expect(drawn([beyond], 4, 2)).toEqual(['##..', '##..']);
});

it('gives a centre on an edge that two polygons share to one of them', () => {
  const part = (left: number, right: number, top: number, bottom: number): Polygon => [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
  expect(drawn([part(0, 0.5, 0, 1)], 3, 1)).toEqual(['#..']);
  expect(drawn([part(0.5, 1, 0, 1)], 3, 1)).toEqual(['.##']);
  expect(drawn([part(0, 1, 0, 0.5)], 1, 3)).toEqual(['#', '.', '.']);
  expect(drawn([part(0, 1, 0.5, 1)], 1, 3)).toEqual(['.', '#', '#']);
});
