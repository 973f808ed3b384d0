import { expect, it } from 'vitest';
import { afterPause } from '../../src/fit/record.js';

it('counts the times that came after a pause, not as soon as the camera could fire again', () => {
  // A cooldown of 5 s at five frames a second: the fourth comes a frame late, the fifth after a pause.
  expect(afterPause([0, 5, 10, 15.2, 21, 40], 5, 0.5)).toBe(3);
});
