import seedrandom from 'seedrandom';
import { beforeAll, describe, expect, it } from 'vitest';
import { Gusts } from '../../src/weather/wind/gusts.js';
import { Oscillators } from '../../src/weather/wind/oscillator.js';
import { periodogram } from './periodogram.js';

const step = 0.05;

describe('gusts', () => {
  const wind = { mean: 4, intensity: 0.2, height: 2 };
  const places = 12;
  const series = Array.from({ length: places }, () => new Float64Array(1 << 16));
  // Weathers of several seeds: one hour of one seed has only a few of the slowest gusts.
  for (let p = 0; p < places; p++) {
    const gusts = new Gusts(wind, step, [0.5], seedrandom(`gusts ${p}`));
    for (let i = 0; i < series[p]!.length; i++, gusts.advance()) series[p]![i] = gusts.speeds[0]!;
  }

  it('have the mean and the turbulence intensity of their site', () => {
    const all = series.flatMap((s) => Array.from(s));
    const mean = all.reduce((a, b) => a + b, 0) / all.length;
    const deviation = Math.sqrt(all.reduce((a, b) => a + (b - mean) ** 2, 0) / all.length);
    expect(mean / wind.mean).toBeCloseTo(1, 2);
    expect(deviation / wind.mean).toBeGreaterThan(0.185);
    expect(deviation / wind.mean).toBeLessThan(0.205);
  });

  const length = 4096;
  let spectra: Float64Array[];
  beforeAll(() => {
    spectra = series.map((s) => periodogram(s, length, step));
  });

  // Kaimal et al. 1972: n S / u*^2 = 105 f / (1 + 33 f)^(5/3), which integrates to 105/22 u*^2.
  it.each([
    [0.02, 0.06],
    [0.06, 0.2],
    [0.2, 0.7],
    [0.7, 2.2],
    [2.2, 6],
  ])('follow the spectrum of Kaimal from %f to %f Hz', (low, high) => {
    const spacing = 1 / (length * step);
    let measured = 0;
    let expected = 0;
    for (let i = Math.ceil(low / spacing); i * spacing < high; i++) {
      const n = i * spacing;
      const f = (n * wind.height) / wind.mean;
      measured += spectra.reduce((a, s) => a + s[i]!, 0) / places;
      expected += ((105 * f) / (1 + 33 * f) ** (5 / 3) / n / (105 / 22)) * (wind.mean * wind.intensity) ** 2;
    }
    expect(measured / expected).toBeGreaterThan(0.85);
    expect(measured / expected).toBeLessThan(1.18);
  });

  it('are the same after a leap as after going there step by step', () => {
    const make = () => new Gusts(wind, step, [0, 2], seedrandom('leap'));
    const [walked, leapt] = [make(), make()];
    for (let i = 0; i < 900; i++) walked.advance();
    leapt.seek(900 * step);
    expect(Array.from(leapt.speeds)).toEqual(Array.from(walked.speeds));
  });

  it('reach neighbours alike when slow, each on its own when quick', () => {
    const gusts = new Gusts(wind, step, [0, 0], seedrandom('neighbours'));
    const apart = new Float64Array(1 << 15);
    for (let i = 0; i < apart.length; i++, gusts.advance()) apart[i] = gusts.speeds[0]! - gusts.speeds[1]!;
    const spectrum = periodogram(apart, 4096, step);
    const power = (low: number, high: number) =>
      spectrum
        .slice(Math.round(low * 4096 * step), Math.round(high * 4096 * step))
        .reduce((a, b) => a + b, 0);
    expect(power(1, 5)).toBeGreaterThan(100 * power(0.02, 0.5));
  });
});

describe('a branch', () => {
  // exp(-2 pi zeta / sqrt(1 - zeta^2)) per cycle.
  it.each([
    [0.02, 0.8819],
    [0.05, 0.7301],
    [0.1, 0.5318],
  ])('of damping %f keeps %f of its swing each cycle', (damping, kept) => {
    const cycle = 1 / (0.5 * Math.sqrt(1 - damping * damping));
    const branch = new Oscillators([{ frequency: 0.5, damping }], cycle / 40);
    branch.start([1]);
    for (let i = 0; i < 40; i++) branch.advance([0]);
    expect(branch.displacement[0]).toBeCloseTo(kept, 4);
  });

  it('is where it would be however coarse the steps', () => {
    const fine = new Oscillators([{ frequency: 1.7, damping: 0.1 }], 0.001);
    const coarse = new Oscillators([{ frequency: 1.7, damping: 0.1 }], 2);
    for (let i = 0; i < 2000; i++) fine.advance([1]);
    coarse.advance([1]);
    expect(coarse.displacement[0]).toBeCloseTo(fine.displacement[0]!, 9);
  });

  it('comes to rest where a steady force holds it', () => {
    const branch = new Oscillators([{ frequency: 1, damping: 0.1 }], step);
    for (let i = 0; i < 1000; i++) branch.advance([0.7]);
    expect(branch.displacement[0]).toBeCloseTo(0.7, 6);
  });

  describe('under white noise', () => {
    const [frequency, damping] = [1.2, 0.08];
    const fine = 0.01;
    const random = seedrandom('white');
    const branch = new Oscillators([{ frequency, damping }], fine);
    const series = new Float64Array(1 << 18);
    for (let i = 0; i < series.length; i++) {
      branch.advance([Math.sqrt(12) * (random() - 0.5)]);
      series[i] = branch.displacement[0]!;
    }

    it('swings mostly at its own frequency', () => {
      const spectrum = periodogram(series, 4096, fine);
      const peak = spectrum.indexOf(Math.max(...spectrum)) / (4096 * fine);
      expect(peak).toBeGreaterThan(frequency - 0.08);
      expect(peak).toBeLessThan(frequency + 0.08);
    });

    it('has the variance pi S0 w / (2 zeta) (Crandall & Mark 1963, from memory: pi S0 / (2 zeta w^3) for a force per mass)', () => {
      const variance = series.reduce((a, v) => a + v * v, 0) / series.length;
      // Steps of unit variance have the two-sided density step / (2 pi) per radian a second.
      const density = fine / (2 * Math.PI);
      const expected = (Math.PI * density * 2 * Math.PI * frequency) / (2 * damping);
      expect(variance / expected).toBeGreaterThan(0.93);
      expect(variance / expected).toBeLessThan(1.07);
    });
  });
});
