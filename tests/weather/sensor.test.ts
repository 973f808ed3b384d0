import { describe, expect, it } from 'vitest';
import { defaultOptics } from '../../src/weather/defaults.js';
import { lightOfSignal, linearOf, SIGNAL_STEPS, signalOf } from '../../src/weather/gamma.js';
import { createLowLight } from '../../src/weather/light/light.js';
import { exposureAt, lightVariance, luxAt, noiseVariance } from '../../src/weather/sensor/sensor.js';
import type { Sensing } from '../../src/weather/setup.js';
import { makeSetup } from './made.js';

// sRGB, IEC 61966-2-1.
it.each([
  [0.5, 0.214041],
  [128 / 255, 0.215861],
  [10 / 255, 0.003035],
])('signal %f is linear light %f and back', (signal, light) => {
  expect(linearOf(signal)).toBeCloseTo(light, 6);
  expect(signalOf(linearOf(signal))).toBeCloseTo(signal, 10);
  expect(lightOfSignal[signal * 255 * SIGNAL_STEPS]).toBeCloseTo(light, 6);
});

// ISO 2720, C = 250, speed 100.
it.each([
  [0, 2.5],
  [4, 40],
  [10, 2560],
])('exposure value %d is right at %d lux', (ev, lux) => {
  expect(luxAt(ev)).toBe(lux);
});

describe('noise by the linear model (EMVA 1288 R3.1, from memory)', () => {
  it.each([
    // K^2 sd^2 + K mu by hand; what storing rounds is no part of it.
    [0, 0.64],
    [10, 1.64],
    [100, 10.64],
  ])('has its variance at %d', (mean, variance) => {
    expect(noiseVariance(mean, 0.1, 8)).toBeCloseTo(variance, 4);
  });

  it('leaves a full well of 4300 electrons 36.33 dB above its shot noise', () => {
    const shot = noiseVariance(255, 255 / 4300, 0);
    expect(20 * Math.log10(255 / Math.sqrt(shot))).toBeCloseTo(36.33, 2);
  });
});

describe('exposure', () => {
  it('lengthens to its limit, then gain rises to its limit, then the picture darkens', () => {
    const at = (lux: number) => exposureAt(lux, defaultOptics, 5);
    expect(at(4000).seconds).toBeCloseTo(at(8000).seconds * 2, 10);
    expect(at(4000)).toMatchObject({ gain: 1, level: 1 });
    expect(at(200)).toMatchObject({ seconds: defaultOptics.longest, level: 1 });
    expect(at(100).gain).toBeCloseTo(at(200).gain * 2, 10);
    expect(at(20)).toMatchObject({ seconds: defaultOptics.longest, gain: defaultOptics.mostGain });
    expect(at(10).level).toBeCloseTo(at(20).level / 2, 10);
  });

  it('is no longer than a frame', () => {
    expect(exposureAt(1, { ...defaultOptics, longest: 2 }, 5).seconds).toBe(0.2);
  });
});

describe('low light', () => {
  // Full light: what is recorded keeps next to no noise of its own.
  const optics = { ...defaultOptics, readNoise: 8, mostGain: 64 };
  const side = 320;
  const from = { light: 130_000 };

  /** Frames of an even field of linear light `mean` of 255, in linear light; the first is of other exposure. */
  function frames(mean: number, light: number, count = 2): Float64Array[] {
    const { effect } = createLowLight(makeSetup(side, 240, { from, to: { light }, optics }));
    return Array.from({ length: count }, () => {
      const seen = taken(effect, new Float32Array(side * 240).fill(255 * signalOf(mean / 255)));
      return Float64Array.from(seen, (v) => 255 * linearOf(v / 255));
    });
  }

  it('gives the system gain back as the slope of variance against mean in linear light', () => {
    const light = 100;
    const points = [40, 70, 100, 130, 160, 190].map((mean) => {
      const [, second] = frames(mean, light);
      // Rounding to grey levels adds a twelfth (Sheppard's correction), in linear light by the slope of the curve there.
      const signal = 255 * signalOf(mean / 255);
      const slope = 255 * (linearOf((signal + 0.5) / 255) - linearOf((signal - 0.5) / 255));
      return [mean, variance(second!) - slope ** 2 / 12] as const;
    });
    const { gain } = exposureAt(light, optics, 5);
    // Each pixel averages 3 by 3 elements read across 960, in three colours of BT.601 weights.
    const k = ((255 / optics.fullWell) * gain * (0.299 ** 2 + 0.587 ** 2 + 0.114 ** 2)) / 9;
    // The recording's own noise, of the gain 1 it had, is there already.
    const had = k / gain;
    const kept = (1 - 1 / 12) ** 2 + (1 / 12) ** 2;
    expect(slopeOf(points) / (k - had * kept)).toBeGreaterThan(0.95);
    expect(slopeOf(points) / (k - had * kept)).toBeLessThan(1.05);
  });

  it('is independent from frame to frame: a difference has sqrt(2) of the deviation', () => {
    const [, a, b] = frames(100, 100, 3);
    const difference = a!.map((v, i) => v - b![i]!);
    expect(Math.sqrt(variance(difference) / variance(a!))).toBeCloseTo(Math.SQRT2, 1);
  });

  it('has as much noise when it starts from dim frames as when it starts from bright ones', () => {
    // A dim recording has noise of its own; only what is lacking is added.
    const total = (recorded: number) => {
      const { effect } = createLowLight(
        makeSetup(side, 240, { from: { light: recorded }, to: { light: 25 }, optics, rate: 1e-3 }),
      );
      const was = exposureAt(recorded, optics, 1e-3);
      const own = Math.sqrt(lightVariance(0.4, was.gain, optics, side));
      const random = new Uint32Array([12_345]);
      const noise = () => {
        // A sum of twelve uniform numbers is nearly normal, of variance 1.
        let sum = -6;
        for (let n = 0; n < 12; n++) {
          random[0] = Math.imul(random[0]!, 1_664_525) + 1_013_904_223;
          sum += random[0]! / 2 ** 32;
        }
        return sum;
      };
      const picture = Float32Array.from({ length: side * 240 }, () => 255 * signalOf(0.4 + own * noise()));
      return variance(Float64Array.from(taken(effect, picture), (v) => linearOf(v / 255)));
    };
    expect(total(100) / total(130_000)).toBeGreaterThan(0.93);
    expect(total(100) / total(130_000)).toBeLessThan(1.07);
  });

  it('mixes the frame before into what moves, by half the share of the interval that the shutter is open longer', () => {
    const still = { ...defaultOptics, readNoise: 0, fullWell: 1e9, longest: 0.1 };
    const { effect } = createLowLight(makeSetup(16, 16, { from, to: { light: 150 }, optics: still }));
    taken(effect, new Uint8Array(256).fill(255));
    const seen = taken(effect, new Uint8Array(256));
    expect(linearOf(seen[20]! / 255)).toBeCloseTo(0.25, 2);
  });

  it('darkens linear light where exposure and gain are at their limits', () => {
    const quiet = { ...defaultOptics, readNoise: 0, fullWell: 1e9 };
    const { effect, exposure } = createLowLight(
      makeSetup(16, 16, { from: { light: 10_000 }, to: { light: 10 }, optics: quiet }),
    );
    const [seen] = taken(effect, new Uint8Array(256).fill(200));
    expect(seen).toBe(Math.round(255 * signalOf(linearOf(200 / 255) * exposure!.level)));
    expect(exposure!.level).toBeLessThan(0.2);
  });

  it('refuses more light than was recorded, and says both', () => {
    const make = () => createLowLight(makeSetup(16, 16, { from: { light: 100 }, to: { light: 200 } }));
    expect(make).toThrow(
      expect.objectContaining({ code: 'usage', message: expect.stringMatching(/200 lux.*100 lux/) }),
    );
  });

  it('is nothing where no other light is wanted', () => {
    expect(createLowLight(makeSetup(16, 16, { from: { light: 100 }, to: {} })).effect).toBeNull();
    expect(createLowLight(makeSetup(16, 16, { from: { light: 100 }, to: { light: 100 } })).effect).toBeNull();
  });

  it('says so when it is not known in what light the clip was recorded', () => {
    const { assumed } = createLowLight(makeSetup(16, 16, { from: {}, to: { light: 50 } }));
    expect(assumed.join()).toMatch(/overcast/);
  });
});

function taken(effect: Sensing | null, picture: Uint8Array | Float32Array): Uint8Array {
  const out = new Uint8Array(picture.length);
  effect!.take(picture, out);
  return out;
}

function variance(values: Float64Array): number {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length;
}

function slopeOf(points: (readonly [number, number])[]): number {
  const mx = points.reduce((s, [x]) => s + x, 0) / points.length;
  const my = points.reduce((s, [, y]) => s + y, 0) / points.length;
  const down = points.reduce((s, [x]) => s + (x - mx) ** 2, 0);
  return points.reduce((s, [x, y]) => s + (x - mx) * (y - my), 0) / down;
}
