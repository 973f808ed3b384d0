import { expect, it } from 'vitest';
import { causeTold } from '../../src/score/cause-told.js';

const wind = { start: 0, end: 60, cause: 'wind' as const };
const shadow = { start: 10, end: 12, cause: 'shadow' as const };

it.each([
  ['nothing was said', undefined, 11, null],
  ['not then', [wind], 60.1, null],
  ['both ends of a stretch belong to it', [shadow], 12, 'shadow'],
  ['the shorter of two stretches counts, however they are ordered', [shadow, wind], 11, 'shadow'],
  ['the shorter of two stretches counts, however they are ordered', [wind, shadow], 11, 'shadow'],
  [
    'of equal ones that whose middle is nearer',
    [shadow, { start: 11, end: 13, cause: 'rain' }],
    11.9,
    'rain',
  ],
  ['the same stretch with two causes tells nothing', [shadow, { ...shadow, cause: 'rain' }], 11, null],
  ['the same stretch with one cause twice tells it', [shadow, shadow], 11, 'shadow'],
] as const)('%s', (_, causes, time, told) => {
  expect(causeTold(causes && [...causes], time)).toBe(told);
});
