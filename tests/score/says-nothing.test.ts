import { expect, it } from 'vitest';
import type { Labels } from '../../src/score/labels.js';
import { saysNothing } from '../../src/score/says-nothing.js';

const fresh: Labels = { version: 1, reviewed: [], visits: [] };

it.each<[string, Labels, boolean]>([
  ['nothing at all', fresh, true],
  [
    'what is said of the place alone',
    {
      ...fresh,
      mask: [
        [
          [0, 0],
          [1, 0],
          [1, 1],
        ],
      ],
    },
    true,
  ],
  ['a visit that has only begun', { ...fresh, ignored: [{ start: 3, end: 3, why: 'begun' }] }, true],
  [
    'all looked through, for the contract says so of labels that leave it out',
    { version: 1, visits: [] },
    false,
  ],
  ['a part looked through', { ...fresh, reviewed: [{ start: 0, end: 1 }] }, false],
  ['a part set aside', { ...fresh, ignored: [{ start: 0, end: 1 }] }, false],
  ['a visit', { ...fresh, visits: [{ start: 2, end: 2, type: 'animal' }] }, false],
])('%s', (_, labels, nothing) => {
  expect(saysNothing(labels)).toBe(nothing);
});
