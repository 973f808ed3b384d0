import { expect, it } from 'vitest';
import { UnrestMeter } from '../../src/weather/unrest.js';

it('unrest of so little foliage that none is left at the coarse size is a number', () => {
  const [width, height] = [16, 12];
  const foliage = new Uint8Array(width * height);
  foliage[0] = 255;
  const meter = new UnrestMeter(width, height, foliage);
  for (const level of [90, 140, 90, 140]) meter.see(new Uint8Array(width * height).fill(level));
  expect(meter.measure().every(Number.isFinite)).toBe(true);
  expect(meter.changed()).toBe(1);
});
