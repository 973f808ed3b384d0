import { describe, expect, test } from 'vitest';
import { streaks } from '../../../../src/diagnose/triggers/measures/streaks.js';
import { texture } from './looks.js';

const [width, height] = [96, 72];
const everywhere = new Uint8Array(width * height).fill(1);

/** Soft lines 12 pixels apart, `degrees` off upright. */
function lines(degrees: number): Float32Array {
  const turn = (degrees * Math.PI) / 180;
  return Float32Array.from({ length: width * height }, (_, i) => {
    const across = (i % width) * Math.cos(turn) + Math.floor(i / width) * Math.sin(turn);
    return 100 * Math.exp(-(((((across % 12) + 12) % 12) - 6) ** 2) / 4);
  });
}

describe('streaks by the structure tensor', () => {
  test.each([
    [0, 1],
    [15, 1],
    [-20, 1],
    [40, 0],
    [-60, 0],
    [90, 0],
  ])('lines %i degrees off upright run one way, and %i of them upright', (degrees, upright) => {
    const found = streaks(lines(degrees), width, height, everywhere);
    expect(found.oneWay).toBeGreaterThan(0.95);
    expect(found.upright).toBeCloseTo(upright, 1);
  });

  test('noise has no way', () => {
    const noise = Float32Array.from(texture(width, height, 3));
    expect(streaks(noise, width, height, everywhere).oneWay).toBeLessThan(0.4);
  });

  test('an even picture and one too small for a square have none', () => {
    const none = { oneWay: 0, upright: 0, sharp: 0 };
    expect(streaks(new Float32Array(width * height), width, height, everywhere)).toEqual(none);
    expect(streaks(new Float32Array(16), 4, 4, new Uint8Array(16).fill(1))).toEqual(none);
  });
});
