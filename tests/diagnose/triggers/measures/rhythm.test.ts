import FFT from 'fft.js';
import seedrandom from 'seedrandom';
import { describe, expect, test } from 'vitest';
import { rhythm } from '../../../../src/diagnose/triggers/measures/rhythm.js';

const rate = 5;
const n = 128;
const times = Array.from({ length: n }, (_, i) => i / rate);
const sine = (hertz: number, t: number) => Math.sin(2 * Math.PI * hertz * t + 0.4);

/** The frequency of the highest bin of a fast Fourier transform (fft.js), constant part left out. */
function fourierPeak(values: readonly number[]): number {
  const fft = new FFT(values.length);
  const out = fft.createComplexArray();
  fft.realTransform(out, [...values]);
  let best = 1;
  for (let k = 1; k <= values.length / 2; k++) {
    const size = (i: number) => Math.hypot(out[2 * i]!, out[2 * i + 1]!);
    if (size(k) > size(best)) best = k;
  }
  return (best * rate) / values.length;
}

describe('the rhythm of a place', () => {
  test.each([0.4, 0.9, 1.3, 1.9, 2.3])(
    'a sine of %f Hz in noise is found where a Fourier transform has its peak',
    (hertz) => {
      const random = seedrandom(`rhythm ${hertz}`);
      const values = times.map((t) => 10 * sine(hertz, t) + 6 * (random() - 0.5) + 100);
      const found = rhythm(times, values);
      const bin = rate / n;
      expect(Math.abs((found?.hertz ?? 0) - fourierPeak(values))).toBeLessThanOrEqual(bin / 2 + 1e-9);
      expect(Math.abs((found?.hertz ?? 0) - hertz)).toBeLessThan(bin / 2);
      expect(found?.share).toBeGreaterThan(0.8);
    },
  );

  test('a sine at uneven times is found', () => {
    const random = seedrandom('uneven');
    const uneven = times.map((t) => t + 0.15 * random());
    const found = rhythm(
      uneven,
      uneven.map((t) => sine(1.1, t)),
    );
    expect(found?.hertz).toBeCloseTo(1.1, 1);
    // At worst an eighth of a bin from the nearest frequency looked at: sinc(1/8) squared of it is left.
    expect(found?.share).toBeGreaterThan(0.949);
  });

  test('noise has no rhythm', () => {
    const random = seedrandom('noise');
    expect(
      rhythm(
        times,
        times.map(() => random()),
      )?.share,
    ).toBeLessThan(0.2);
  });

  test('nothing faster than half the rate can be told: a sine of 4 Hz looks like one of 1 Hz at 5 a second', () => {
    const found = rhythm(
      times,
      times.map((t) => sine(4, t)),
    );
    expect(found?.limit).toBeCloseTo(2.5, 9);
    expect(found?.hertz).toBeCloseTo(1, 1);
  });

  test.each([
    ['too few values', times.slice(0, 7), times.slice(0, 7)],
    ['a constant', times, times.map(() => 7)],
    ['a straight line', times, times.map((t) => 3 * t)],
    ['no time between', times.map(() => 1), times],
  ])('%s has none', (_, at, values) => {
    expect(rhythm(at, values)).toBeNull();
  });
});
