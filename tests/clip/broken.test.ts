import { expect, test } from 'vitest';
import { broken } from '../../src/clip/stills.js';

test.each([
  ['Unknown error', ''],
  [' \n', ''],
  ['vipspng: libpng read error\n', ' (vipspng: libpng read error)'],
])('what a decoder says of a damaged picture is told where it says something: %j', (said, told) => {
  expect(broken('frames/1.png', 3, new Error(said)).message).toBe(
    `frames/1.png (frame 3, counted from 0): the picture is truncated or damaged${told}; copy it again or take it out of the clip`,
  );
});
