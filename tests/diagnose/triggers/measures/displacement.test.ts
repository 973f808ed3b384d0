import { describe, expect, test } from 'vitest';
import { displacement } from '../../../../src/diagnose/triggers/measures/displacement.js';
import type { Region } from '../../../../src/engine/region.js';
import { squaredDifferences } from '../../../oracle/motion.js';
import { drawnFrames, lookAt, shiftedBy, texture } from './looks.js';

const [width, height] = [320, 240];
/** How far a block is looked for: 0.022 of the width, to the nearest pixel. */
const reach = 7;

/** A region of one block of 8 by 8 pixels. */
function block(left: number, top: number): Region {
  const mask = new Uint8Array(width * height);
  for (let y = 0; y < 8; y++) mask.fill(1, (top + y) * width + left, (top + y) * width + left + 8);
  return { mask, width, height, pixels: 64 };
}

function cut(y: Uint8Array, left: number, top: number, w: number, h: number) {
  const pixels = Uint8Array.from(
    { length: w * h },
    (_, i) => y[(top + Math.floor(i / w)) * width + left + (i % w)]!,
  );
  return { pixels, width: w, height: h };
}

describe('displaced background', () => {
  const windy = drawnFrames({ conditions: { wind: 5, rain: 0, light: 9000 } }, 6);

  // Against the template matching of opencv-wasm, on leaves in the wind.
  test.each([
    [12, 200, 120],
    [15, 240, 90],
    [20, 100, 150],
    [24, 60, 60],
    [27, 260, 180],
  ])('a block of frame %i at %i, %i is found where template matching finds it', (at, left, top) => {
    const look = lookAt(windy, at, width, { region: block(left, top) });
    const part = cut(windy[at]!, left, top, 8, 8);
    const side = 8 + 2 * reach;
    const around = cut(windy[at - 1]!, left - reach, top - reach, side, side);
    const { pixels } = squaredDifferences(around, part);
    const still = pixels[reach * (2 * reach + 1) + reach]!;
    const best = Math.min(...Array.from(pixels));
    expect(still).toBeGreaterThan(0);
    expect(displacement(look).shifted).toBeCloseTo(1 - best / still, 3);
  });

  test('a background moved by 3 right and 2 up is explained, and all of it moved alike', () => {
    const before = texture(width, height, 5);
    const after = shiftedBy(before, width, 3, -2);
    const found = displacement(lookAt([before, after], 1, width, { region: block(120, 80) }));
    expect(found.shifted).toBe(1);
    expect(found.rigid).toBeCloseTo(1, 9);
    expect(found.far).toBeCloseTo((100 * Math.hypot(3, 2)) / width, 9);
  });

  test('something new is not explained by shifting what was there', () => {
    const before = texture(width, height, 5);
    const after = before.slice();
    const other = texture(width, height, 99);
    for (let y = 80; y < 88; y++)
      after.set(other.subarray(y * width + 120, y * width + 128), y * width + 120);
    const { shifted } = displacement(lookAt([before, after], 1, width, { region: block(120, 80) }));
    expect(shifted).toBeLessThan(0.5);
  });

  test('what was seen seconds ago is found again without a shift', () => {
    const rest = texture(width, height, 5);
    const swung = shiftedBy(rest, width, 5, 0);
    const frames = Array.from({ length: 41 }, (_, k) => (k % 20 === 0 ? swung : rest));
    const { again } = displacement(lookAt(frames, 20, width, { region: block(120, 80) }));
    expect(again).toBe(1);
  });
});
