import { expect, it } from 'vitest';
import { medoidOf, readyAt } from '../../src/fit/medoid.js';

it('ready is the last of so many frames in a row, and each after it', () => {
  const area = Uint32Array.from([9, 9, 0, 9, 9, 9, 3]);
  expect([...readyAt(area, { area: 5, persistence: 2 })]).toEqual([0, 1, 0, 0, 1, 1, 0]);
});

it('takes the one in the middle of what several predict, whatever their order', () => {
  const [few, some, many] = ['0001000', '0011100', '0111110'].map((frames) =>
    Uint8Array.from(frames, Number),
  ) as [Uint8Array, Uint8Array, Uint8Array];
  expect(medoidOf([few, some, many])).toBe(1);
  expect(medoidOf([many, few, some])).toBe(2);
  expect(medoidOf([some, some])).toBe(0);
});
