import seedrandom from 'seedrandom';
import { expect, it } from 'vitest';
import { MotionMeter } from '../../src/weather/foliage/motion.js';

const width = 80;
const height = 60;

/** Waves of many directions and lengths of 12 pixels and more, shifted sideways; drawn once for each shift. */
const drawn = new Map<number, number[]>();
function stillWaves(shift: number): number[] {
  const known = drawn.get(shift);
  if (known) return known;
  const fixed = seedrandom('waves');
  const parts = Array.from({ length: 24 }, () => {
    const direction = 2 * Math.PI * fixed();
    const k = (2 * Math.PI) / (12 + 12 * fixed());
    return [k * Math.cos(direction), k * Math.sin(direction), 2 * Math.PI * fixed()] as const;
  });
  const made = Array.from({ length: width * height }, (_, i) => {
    const [x, y] = [(i % width) - shift, Math.floor(i / width)];
    return parts.reduce((sum, [kx, ky, phase]) => sum + Math.sin(kx * x + ky * y + phase), 0);
  });
  drawn.set(shift, made);
  return made;
}

/** The same as grey levels, with sensor noise of a deviation. */
function waves(shift: number, noise: number, seed: string): Uint8Array {
  const random = seedrandom(seed);
  // Twelve uniform deviates less six: variance 1.
  const normal = () => Array.from({ length: 12 }, random).reduce((sum, r) => sum + r, -6);
  return Uint8Array.from(stillWaves(shift), (wave) =>
    Math.round(128 + 9 * wave + (noise === 0 ? 0 : noise * normal())),
  );
}

/** Pixels. */
function measured(shift: number, noise: number): number {
  const foliage = new Uint8Array(width * height).fill(255, 0, (width * height) / 2);
  const meter = new MotionMeter(width, height, foliage);
  for (let k = 0; k < 24; k++) {
    const swaying = waves((k % 2) * shift, noise, `moved ${k}`);
    const still = waves(0, noise, `still ${k}`);
    swaying.set(still.subarray(still.length / 2), still.length / 2);
    meter.see(swaying);
  }
  return meter.measure().shift * width;
}

it('gives back the shift that foliage was moved by', () => {
  expect(Math.abs(measured(0.5, 0) / 0.5 - 1)).toBeLessThan(0.15);
  expect(Math.abs(measured(1, 0) / 1 - 1)).toBeLessThan(0.15);
});

it('is not moved by sensor noise', () => {
  expect(Math.abs(measured(0.5, 4) / measured(0.5, 0) - 1)).toBeLessThan(0.1);
  expect(measured(0, 4)).toBeLessThan(0.06);
});

it('does not measure across a gap', () => {
  const meter = new MotionMeter(width, height, new Uint8Array(width * height).fill(255));
  meter.see(waves(0, 0, 'a'));
  meter.restart();
  meter.see(waves(3, 0, 'b'));
  expect(meter.measure()).toEqual({ pairs: 0, share: 0, shift: 0 });
});
