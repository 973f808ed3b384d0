import { expect, it } from 'vitest';
import type { Polygon } from '../../../src/engine/mask.js';
import { hiddenText } from '../../../src/workbench/page/views/answer/mask-told.js';

const rectangle = (left: number, top: number, right: number, bottom: number): Polygon => [
  [left, top],
  [right, top],
  [right, bottom],
  [left, bottom],
];

it.each([
  ['20 % of the picture, on the right at the bottom', [rectangle(0.6, 0.5, 1, 1)]],
  ['1 % of the picture, in the middle halfway up', [rectangle(0.46, 0.46, 0.54, 0.54)]],
  // What two shapes hide together counts once.
  ['25 % of the picture, on the left at the top', [rectangle(0, 0, 0.5, 0.5), rectangle(0, 0, 0.2, 0.2)]],
])('a mask hides %s', (said, shapes) => {
  expect(hiddenText(shapes)).toBe(said);
});
