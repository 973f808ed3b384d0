import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { toLinear, toSignal } from '../../src/scene/colour.js';
import { noiseVariance, Sensor, unitGain } from '../../src/scene/noise.js';

const gain = 8;
const pixels = 60_000;

/** Stored bytes of the green channel of an even field, `mean` of 255 in linear light. */
function field(sensor: Sensor, mean: number, seed: number): Uint8Array {
  const out = new Uint8Array(pixels * 3);
  sensor.read(new Float32Array(pixels * 3).fill(mean / 255), 1, 0, gain, seed, out, false);
  return out.filter((_, i) => i % 3 === 1);
}

function variance(values: ArrayLike<number>): number {
  const list = Array.from(values);
  const mean = list.reduce((a, b) => a + b, 0) / list.length;
  return list.reduce((sum, v) => sum + (v - mean) ** 2, 0) / list.length;
}

const linear = (byte: number) => 255 * toLinear(byte / 255);

describe('the noise of the sensor', () => {
  // EMVA 1288 R3.1, linear model, from memory: K 0.1, sd 8.
  it.each([
    [0, 0.7233],
    [10, 1.7233],
    [100, 10.7233],
  ])('has the variance of the model at %d', (mean, expected) => {
    expect(noiseVariance(mean, 0.1, 8)).toBeCloseTo(expected, 4);
  });

  it('gives the system gain back as the slope of variance against mean (EMVA 1288 R3.1, from memory)', () => {
    const sensor = new Sensor(seedrandom('slope'));
    const points = [40, 70, 100, 130, 160, 190].map((mean, i) => {
      const values = Array.from(field(sensor, mean, 1000 + i * 7919), linear);
      // Bytes are coarser than the light: take out the variance of that rounding (Sheppard).
      const step = linear(255 * toSignal(mean / 255) + 0.5) - linear(255 * toSignal(mean / 255) - 0.5);
      return [mean, variance(values) - (step * step) / 12] as const;
    });
    const mx = points.reduce((s, [x]) => s + x, 0) / points.length;
    const my = points.reduce((s, [, y]) => s + y, 0) / points.length;
    const slope =
      points.reduce((s, [x, y]) => s + (x - mx) * (y - my), 0) /
      points.reduce((s, [x]) => s + (x - mx) ** 2, 0);
    expect(slope / (unitGain * gain)).toBeGreaterThan(0.96);
    expect(slope / (unitGain * gain)).toBeLessThan(1.04);
  });

  it('is independent from frame to frame: a difference has sqrt(2) of the deviation', () => {
    const sensor = new Sensor(seedrandom('pair'));
    const a = field(sensor, 100, 11);
    const b = field(sensor, 100, 12_345);
    const difference = Float64Array.from(a, (v, i) => v - b[i]!);
    expect(Math.sqrt(variance(difference) / variance(a))).toBeCloseTo(Math.SQRT2, 1);
  });

  it('is the same for the same seed', () => {
    const sensor = new Sensor(seedrandom('same'));
    expect(field(sensor, 80, 5)).toEqual(field(sensor, 80, 5));
  });
});

// sRGB, IEC 61966-2-1.
it.each([
  [0.5, 0.214041],
  [128 / 255, 0.215861],
  [10 / 255, 0.003035],
])('signal %f is linear light %f and back', (signal, light) => {
  expect(toLinear(signal)).toBeCloseTo(light, 6);
  expect(toSignal(toLinear(signal))).toBeCloseTo(signal, 12);
});
