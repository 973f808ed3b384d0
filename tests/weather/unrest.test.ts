import { expect, it } from 'vitest';
import { UnrestMeter } from '../../src/weather/foliage/unrest.js';

it('tells of foliage in shreds, which the coarse picture no longer holds, without figures that are none', () => {
  const [width, height] = [32, 24];
  const shreds = Uint8Array.from({ length: width * height }, (_, i) => (i % 8 === 0 ? 255 : 0));
  const meter = new UnrestMeter(width, height, shreds);
  for (let k = 0; k < 4; k++) meter.see(new Uint8Array(width * height).fill(100 + 20 * (k % 2)));
  expect(meter.changed()).toBe(1);
  expect(Array.from(meter.measure()).every(Number.isFinite)).toBe(true);
});
