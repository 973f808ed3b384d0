import { describe, expect, it } from 'vitest';
import type { ClipSample } from '../../src/measure/weather/sample.js';
import {
  againstItself,
  againstWindy,
  fitMotion,
  motionText,
  unrestOf,
} from '../../src/measure/weather/sway.js';
import { FoliageFinder } from '../../src/weather/foliage/foliage-finder.js';
import type { Setup, SiteMotion } from '../../src/weather/setup.js';
import { createWind } from '../../src/weather/wind/wind.js';
import { makeSetup } from './made.js';
import { filmed, ground, hedge, height, width } from './yards.js';

const box = [20, 40, 300, 200] as const;

function sampled(frames: readonly (readonly Uint8Array[])[]): ClipSample {
  return {
    width,
    height,
    rate: 5,
    runs: frames.map((run, r) => run.map((y, k) => ({ y, time: 20 * r + k / 5 }))),
  };
}

/** A hedge filmed whose leaves go so many pixels to either side. */
function hedgeSwaying(reach: number, hertz = 1.3): ClipSample {
  return sampled(filmed([ground('asphalt', 1, 18), hedge('hedge', box, reach, hertz)], 'fit', 6));
}

function seenIn(sample: ClipSample) {
  const finder = new FoliageFinder(width, height);
  for (const run of sample.runs) {
    finder.restart();
    for (const { y } of run) finder.see(y);
  }
  return finder.find();
}

/** Pixels by which foliage is moved from frame to frame under a setup's wind, root mean square, as a ramp shows. */
function waysOf(setup: Setup): number {
  const { effect } = createWind({
    ...setup,
    from: { ...setup.from, wind: 0 },
    to: { wind: setup.from.wind },
  });
  const at = Uint32Array.from(setup.foliage.keys()).filter((i) => setup.foliage[i]! > 250 && i % 7 === 0);
  const shown = (time: number) => {
    const ramp = Float32Array.from({ length: width * height }, (_, i) => (i % width) / 2);
    effect?.apply(ramp, time);
    return at.map((i) => 1000 * ramp[i]!);
  };
  let [sum, n] = [0, 0];
  for (let k = 0; k < 40; k++) {
    const [before, after] = [shown(2 * k), shown(2 * k + 0.2)];
    before.forEach((value, i) => {
      sum += (2 * ((after[i]! - value) / 1000)) ** 2;
      n++;
    });
  }
  return Math.sqrt(sum / n);
}

/** Times a second that foliage goes to and fro under a setup's wind: how often a ramp rises through its own mean of a second. */
function hertzOf(setup: Setup): number {
  const { effect } = createWind({
    ...setup,
    from: { ...setup.from, wind: 0 },
    to: { wind: setup.from.wind },
  });
  const at = Uint32Array.from(setup.foliage.keys()).filter((i) => setup.foliage[i]! > 250 && i % 41 === 0);
  const [step, half, frames] = [0.05, 10, 160];
  const shown = Array.from({ length: frames }, (_, k) => {
    const ramp = Float32Array.from({ length: width * height }, (_, i) => (i % width) / 2);
    effect?.apply(ramp, k * step);
    return Float64Array.from(at, (i) => ramp[i]!);
  });
  let rises = 0;
  at.forEach((_, i) => {
    let was = 1;
    for (let k = half; k < frames - half; k++) {
      let mean = 0;
      for (let j = k - half; j <= k + half; j++) mean += shown[j]![i]! / (2 * half + 1);
      const is = shown[k]![i]! - mean;
      if (was < 0 && is >= 0) rises++;
      was = is;
    }
  });
  return rises / at.length / ((frames - 2 * half) * step);
}

function fitOn(sample: ClipSample, doubt?: Setup['doubt']) {
  const { map, noise } = seenIn(sample);
  const setup = makeSetup(width, height, { from: { wind: 4, light: 5000 }, foliage: map, doubt });
  const c = againstItself({ sample, noise }, setup);
  const { factors } = fitMotion([c], 5);
  const shown = (shares: Float64Array) => Math.exp(shares[2]!);
  const [seen, simulated] = [shown(c.seen), shown(c.simulated({ ...factors, how: '' }))];
  const moving = { ...setup, motion: { ...factors, how: '' } };
  return { factors, changed: simulated / seen, way: waysOf(moving), moving };
}

describe('sway measured on the clip itself', () => {
  const reaches = [0.5, 1, 2, 4, 8];
  const fits = new Map(reaches.map((reach) => [reach, fitOn(hedgeSwaying(reach))]));

  // The leaves are 3 to 6 pixels long and half as wide: the last of these go farther than they are wide.
  it.each(reaches.slice(0, -1))('finds how far leaves go that go %f pixels to either side', (reach) => {
    const { way } = fits.get(reach)!;
    // 1.3 Hz over 0.2 s: sqrt(2) sin(pi 1.3 0.2) of the reach, root mean square.
    const drawn = reach * Math.SQRT2 * Math.sin(Math.PI * 1.3 * 0.2);
    expect(way / drawn).toBeGreaterThan(1 / 2);
    expect(way / drawn).toBeLessThan(2);
  });

  // Where they go so far that each frame shows another leaf, no way can be told any more; the evidence is met all the same.
  it.each(reaches)('changes as many pixels as leaves do that go %f pixels to either side', (reach) => {
    expect(fits.get(reach)!.changed).toBeGreaterThan(0.7);
    expect(fits.get(reach)!.changed).toBeLessThan(1.4);
  });

  // Leaves of 2 Hz, at five frames a second, change from frame to frame as leaves of 3 Hz do; those of 0.5 Hz as of none.
  describe.each([
    ['as assumed', 1],
    ['hardly at all', 5],
  ])('where branches give way %s', (_, times) => {
    const doubt = { assumption: 'speed of giving way', times } as const;
    const [slow, quick] = [0.5, 2].map((hertz) => fitOn(hedgeSwaying(2, hertz), doubt));

    it('finds leaves of 2 Hz to go to and fro between 1.4 and 2.8 times a second', () => {
      expect(hertzOf(quick!.moving)).toBeGreaterThan(1.4);
      expect(hertzOf(quick!.moving)).toBeLessThan(2.8);
    });

    it('finds leaves of 0.5 Hz to go to and fro less than two thirds as often', () => {
      expect(hertzOf(slow!.moving)).toBeLessThan((2 / 3) * hertzOf(quick!.moving));
    });

    it('finds how far both go', () => {
      for (const [hertz, fit] of [[0.5, slow!] as const, [2, quick!] as const]) {
        const drawn = 2 * Math.SQRT2 * Math.sin(Math.PI * hertz * 0.2);
        expect(fit.way / drawn).toBeGreaterThan(1 / 2);
        expect(fit.way / drawn).toBeLessThan(2);
      }
    });
  });
});

describe('sway measured on two clips', () => {
  const calm = hedgeSwaying(0.2);
  const { map } = seenIn(hedgeSwaying(2));
  const setup = makeSetup(width, height, { from: { wind: 2, light: 5000 }, to: { wind: 5 }, foliage: map });

  /** The calm clip made windy by other dice, with known factors. */
  function windyWith(motion: SiteMotion) {
    const other = { ...setup, seed: 'another day', motion };
    return againstWindy(calm, other, new Float64Array()).simulated(motion);
  }

  it.each([0.5, 1, 2])('gives back %f times as far', (branches) => {
    const motion = { branches, leaves: 0.5, rhythm: 1, growth: 1, how: '' };
    const { factors } = fitMotion([againstWindy(calm, setup, windyWith(motion))], 5);
    expect(factors.branches / branches).toBeGreaterThan(0.6);
    expect(factors.branches / branches).toBeLessThan(1.6);
  });

  it('rests on unrest, of which a calm clip shows less', () => {
    expect(unrestOf(calm, map).changed()).toBeLessThan(unrestOf(hedgeSwaying(2), map).changed());
  });
});

it('says where the wind wanted goes beyond what was measured', () => {
  const motion = { branches: 1, leaves: 1, rhythm: 1, growth: 1, how: 'as seen', upTo: 4 };
  const told = (wind: number, onTwo = false) =>
    createWind(
      makeSetup(width, height, {
        from: { wind: 1 },
        to: { wind },
        motion: { ...motion, onTwo },
        foliage: new Uint8Array(width * height).fill(255),
      }),
    ).assumed[0];
  expect(told(4)).toBe('as seen');
  expect(told(5)).toMatch(/^as seen; more wind than that was not measured, but carried on/);
  expect(told(5, true)).toMatch(/^as seen; more wind than that was not measured/);
  expect(told(4, true)).toBe('as seen');
});

describe('what was found in words', () => {
  const n = 24;
  // The shares grow with both factors alike: a light wind says little of either.
  const fitted = (wind: number) =>
    fitMotion(
      [
        {
          wind,
          seen: new Float64Array(n).fill(1),
          simulated: ({ branches, leaves }) => new Float64Array(n).fill(0.6 * Math.log(branches * leaves)),
        },
      ],
      1,
    );

  it('names every factor that is used, and how far off it may be', () => {
    for (const wind of [1, 4]) {
      const { factors, found } = fitted(wind);
      const text = motionText('the clip itself', { factors, found });
      for (const factor of [factors.branches, factors.leaves]) {
        expect(factor).not.toBe(1);
        expect(text).toContain(`${Number(factor.toPrecision(2))} times`);
      }
      expect(text.match(/give or take a factor of [\d.]+/g)).toHaveLength(2);
    }
  });

  it('does not call measured what is hardly less doubtful than before', () => {
    expect(motionText('the clip itself', fitted(1))).toMatch(/^sway assumed, leaning to/);
  });
});
