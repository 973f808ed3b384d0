import { expect, it } from 'vitest';
import { notesOn } from '../../src/jobs/fit.js';

/** Half a minute, two hours without frames, and half a minute again. */
const times = Float64Array.from({ length: 300 }, (_, k) => k / 5 + (k < 150 ? 0 : 7200));
const notes = (told: number[], fired: number[]) =>
  notesOn({ times: told }, Float64Array.from(fired), { times });

it('fired times in a gap of the clip are said to lie there', () => {
  expect(notes([10, 40, 3600, 7240], [10, 40, 3600, 7240])).toEqual([
    '2 fired times of 4 lie in a gap of the clip, where no frame can explain them: they count as not explained',
  ]);
});

it('those before and after the clip are told apart from them, and times at frames from both', () => {
  expect(notes([-40, 10, 31, 7230, 9000], [10, 31, 7230])).toEqual([
    '2 fired times of 5 lie before or after the clip, by the clock that was found, and do not count',
    '1 fired time of 5 lies in a gap of the clip, where no frame can explain it: it counts as not explained',
  ]);
  expect(notes([10, 7231], [10, 7231])).toEqual([]);
});
