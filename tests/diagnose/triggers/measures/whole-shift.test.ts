import { describe, expect, test } from 'vitest';
import { wholeShift } from '../../../../src/diagnose/triggers/measures/whole-shift.js';
import { smooth } from '../../../../src/engine/smooth.js';
import { registered } from '../../../oracle/motion.js';
import { drawnFrames, shiftedBy } from './looks.js';

const [width, height] = [320, 240];

describe('one shift of the whole picture', () => {
  const [still] = drawnFrames({}, 1);
  const shaken = drawnFrames({ shakes: 1200, seed: 'shaken' }, 12);

  test.each([
    [3, 0],
    [-6, 2],
    [1, -4],
  ])('%i right and %i down are found', (dx, dy) => {
    const found = wholeShift(
      still as Uint8Array,
      shiftedBy(still as Uint8Array, width, dx, dy),
      width,
      height,
    );
    expect(found.x).toBeCloseTo(dx, 1);
    expect(found.y).toBeCloseTo(dy, 1);
    expect(found.explains).toBeGreaterThan(0.95);
  });

  // Against the registration of opencv-wasm (findTransformECC), on a drawn picture of a knocked camera.
  test.each([10, 17, 24, 31, 38, 45, 52])('agrees with registration about frame %i', (at) => {
    const [from, to] = [shaken[at - 1], shaken[at]].map((y) => smooth(y as Uint8Array, width, height, 1));
    const ours = wholeShift(from as Uint8Array, to as Uint8Array, width, height);
    const theirs = registered(
      { pixels: from as Uint8Array, width, height },
      { pixels: to as Uint8Array, width, height },
    );
    expect(Math.abs(ours.x - theirs.x)).toBeLessThan(0.15);
    expect(Math.abs(ours.y - theirs.y)).toBeLessThan(0.15);
  });

  test('two equal pictures are not shifted', () => {
    expect(wholeShift(still as Uint8Array, still as Uint8Array, width, height)).toEqual({
      x: 0,
      y: 0,
      explains: 0,
    });
  });
});
