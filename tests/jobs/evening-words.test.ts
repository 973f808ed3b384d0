import { expect, it } from 'vitest';
import { assumptions } from '../../src/jobs/evening/words.js';
import { hoursOut } from '../../src/outing/evening/hours-out.js';

/** Three bunches within four minutes, the outer ones of three photos. */
const photos = [0, 1, 10, 100, 101, 200, 210, 220].map((time) => ({ time, seen: 'nothing' as const }));

it.each([
  {
    given: {},
    said: /^hours out: from the first photo to the last, .*counted from 30 s after the first to where the last bunch of them began, for 6 photos of the first and the last bunch \(30 s\) .*\(those that you give are better\)$/,
  },
  {
    given: { from: -60 },
    said: /^hours out: until the last photo, .*for 3 photos of the last bunch .*\(an end that you give is better\)$/,
  },
  {
    given: { until: 300 },
    said: /^hours out: from the first photo on, .*counted from 30 s after the first, for 3 photos of the first bunch .*\(a beginning that you give is better\)$/,
  },
])('hours that nobody said are told with the photos that are left out for it: %o', ({ given, said }) => {
  expect(assumptions(hoursOut(photos, given), null, null)).toEqual([expect.stringMatching(said)]);
});

it('of hours that were said nothing is assumed', () => {
  expect(assumptions(hoursOut(photos, { from: -60, until: 300 }), null, null)).toEqual([]);
});
