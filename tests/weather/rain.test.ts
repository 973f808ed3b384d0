import { describe, expect, it } from 'vitest';
import { defaultGeometry } from '../../src/weather/defaults.js';
import { createRain } from '../../src/weather/rain/rain.js';
import { type RainPart, rainParts } from '../../src/weather/rain/rain-part.js';
import { lightOf } from '../../src/weather/rain/streaks.js';
import type { Setup } from '../../src/weather/setup.js';
import { makeSetup } from './made.js';

const width = 160;
const height = 120;
/** Stripes, so that what turns shows. */
const stripes = Float32Array.from({ length: width * height }, (_, i) => (((i % width) >> 2) % 2 ? 60 : 150));
/** Nothing but foliage. */
const leaves = new Uint8Array(width * height).fill(255);
const noLeaves = new Uint8Array(width * height);

function frames(set: Partial<Setup>, count = 20): Float32Array[] {
  const { effect } = createRain(makeSetup(width, height, { foliage: leaves, ...set }));
  return Array.from({ length: count }, (_, k) => {
    const picture = Float32Array.from(stripes);
    effect?.apply(picture, k / 5);
    return picture;
  });
}

/** Pixels that differ by 8 grey levels or more from one frame to the next, on average. */
function moving(seen: Float32Array[], within = (_: number) => true): number {
  let n = 0;
  for (let k = 1; k < seen.length; k++)
    seen[k]!.forEach((v, i) => {
      if (within(i) && Math.abs(v - seen[k - 1]![i]!) >= 8) n++;
    });
  return n / (seen.length - 1);
}

/** All parts but those that are wanted. */
function only(...wanted: RainPart[]): RainPart[] {
  return rainParts.filter((part) => !wanted.includes(part));
}

describe('rain', () => {
  it.each([
    ['more rain moves more', { to: { rain: 1 } }, { to: { rain: 4 } }],
    [
      'the rain that is in the recording is not added again',
      { from: { rain: 3 }, to: { rain: 4 } },
      { to: { rain: 4 } },
    ],
    [
      'leaves are struck where there are any',
      { foliage: new Uint8Array(width * height), to: { rain: 2 }, without: only('struck leaves') },
      { to: { rain: 2 }, without: only('struck leaves') },
    ],
  ])('%s', (_, less, more) => {
    expect(moving(frames(more))).toBeGreaterThan(1.2 * moving(frames(less)));
  });

  it('does not knock what stands in front of the leaves', () => {
    const left = (i: number) => i % width < width / 2 - 8;
    const struck = { to: { rain: 4 }, without: only('struck leaves') };
    const calm = { ...struck, inFront: [{ start: 0, end: 10, box: [0, 0, 0.5, 1] as const }] };
    expect(moving(frames(calm), left)).toBeLessThan(0.1 * moving(frames(struck), left));
  });

  it('darkens what is no leaf, and hides nothing behind a veil', () => {
    const bare = {
      foliage: new Uint8Array(width * height),
      to: { rain: 20 },
      without: only('haze', 'wetness'),
    };
    const [wet] = frames(bare, 1);
    // By hand, with the curve of sRGB (IEC 61966-2-1): dark stripes of 60 have 0.0452 of the light. 14 % less, and 0.22 % of it
    // veiled by drops half as bright as white, come to 0.0397, which is 56.1. At 20 mm/h drops take 0.241 % in each metre (see
    // drops.test.ts), those below 1 mm 37 % of that: 1 - e^-s (s^2 / 2 + s + 1), with their slope s of 2.1855. So much in the 2.45 m
    // from the housing's roof to the foliage; larger ones are drawn singly, and would else count twice.
    expect(wet!.reduce((a, b) => Math.min(a, b))).toBeCloseTo(56.1, 1);
    const [leafy] = frames({ ...bare, foliage: leaves }, 1);
    expect(Math.max(...leafy!.map((v, i) => Math.abs(v - stripes[i]!)))).toBeLessThan(2);
  });

  it.each(rainParts)('changes something by %s alone, and nothing without any', (part) => {
    const set = {
      to: { rain: 30 },
      // So far off that there is haze: beyond what is drawn drop by drop.
      geometry: { ...defaultGeometry, foliage: 5, cover: true },
      // Leaves above, ground below.
      foliage: Uint8Array.from(leaves, (v, i) => (i < leaves.length / 2 ? v : 0)),
    };
    const changed = (without: RainPart[]) =>
      frames({ ...set, without }, 100).some((p) => p.some((v, i) => Math.abs(v - stripes[i]!) > 1));
    expect(changed(only(part))).toBe(true);
  });

  it('darkens nothing by haze alone, and veils nothing by wetness alone', () => {
    const changed = (part: RainPart) =>
      frames({ foliage: noLeaves, to: { rain: 20 }, without: only(part) }, 1)[0]!.reduce(
        (sum, v, i) => sum + v - stripes[i]!,
        0,
      );
    expect(changed('haze')).toBeGreaterThan(0);
    expect(changed('wetness')).toBeLessThan(0);
    expect(
      frames({ foliage: noLeaves, to: { rain: 20 }, from: { rain: 10 }, without: only('wetness') }, 1)[0]!,
    ).toEqual(frames({ foliage: noLeaves, to: { rain: 20 }, from: { rain: 10 }, without: rainParts }, 1)[0]!);
  });

  it('shows as much of a veil by what is not drawn drop by drop as there is', () => {
    // Beyond 3 m no drop is drawn: of leaves 2 m farther off, all that those 2 m of rain take (0.135 % a metre at 8 mm/h, see
    // drops.test.ts) comes to the haze, and its light is that of drops, half of white: 0.135 % more light on black.
    const veil = (foliage: number) => {
      const geometry = { ...defaultGeometry, foliage };
      const { effect } = createRain(
        makeSetup(width, height, { foliage: noLeaves, to: { rain: 8 }, geometry, without: only('haze') }),
      );
      const black = new Float32Array(width * height);
      effect?.apply(black, 0);
      return lightOf(black[0]!);
    };
    expect(veil(5.2) - veil(3.2)).toBeCloseTo(0.00135, 4);
  });

  it('changes nothing with every part left out, on a bare camera', () => {
    const seen = frames({ to: { rain: 30 }, without: rainParts }, 5);
    expect(seen.every((p) => p.every((v, i) => Math.abs(v - stripes[i]!) < 0.1))).toBe(true);
  });

  it('falls the same in one part whether or not another falls', () => {
    const near = frames({ to: { rain: 8 }, without: only('near drops') });
    const both = frames({ to: { rain: 8 }, without: only('near drops', 'drips from leaves') });
    let [same, all] = [0, 0];
    for (const [k, p] of near.entries()) {
      for (const [i, v] of p.entries()) {
        if (Math.abs(v - stripes[i]!) < 4) continue;
        all++;
        if (Math.abs(v - both[k]![i]!) < 0.5) same++;
      }
    }
    expect(all).toBeGreaterThan(100);
    expect(same / all).toBeGreaterThan(0.9);
  });

  // By hand: 0.003 m^2 of roof in 8 mm/h are 24 ml an hour, 366.7 drips of 65.45 mm^3; each is in view for the height of the
  // picture at 7 cm (120 of 132.6 pixels' focal length: 63.3 mm) and its own 5 mm at 0.99 m/s, 69 ms, and the exposure's 2 ms.
  it('shows a drip at the lens in as many frames as it passes in', () => {
    const count = 4000;
    const seen = frames({ to: { rain: 8 }, without: only('drips at the lens'), foliage: noLeaves }, count);
    const share = seen.filter((p) => p.some((v, i) => Math.abs(v - stripes[i]!) > 5)).length / count;
    const expected = (366.7 / 3600) * 0.071;
    // Three standard deviations of so many.
    expect(Math.abs(share - expected)).toBeLessThan(3 * Math.sqrt(expected / count));
  });

  // Whatever falls hides what is behind it for as long as it is before it, so on average over time it takes the same light:
  // a longer exposure shows more of it, each the fainter (of far drops, too faint to be drawn).
  it.each(['near drops', 'splashes', 'drips at the lens'] as const)(
    'shows as much light of %s in long exposures as in short ones',
    { timeout: 30_000 },
    (part) => {
      const light = (lux: number) => {
        const setup = makeSetup(width, height, {
          from: { light: lux },
          to: { rain: 30 },
          without: only(part),
          doubt: { assumption: 'lens drips', times: 50 },
        });
        const { effect } = createRain(setup);
        let sum = 0;
        for (let k = 0; k < 800; k++) {
          const picture = new Float32Array(width * height);
          effect!.apply(picture, k / 5);
          for (const v of picture) if (v > 0) sum += lightOf(v);
        }
        return sum;
      };
      // About 2 ms and 33 ms.
      expect(Math.abs(light(300) / light(10_000) - 1)).toBeLessThan(0.15);
    },
  );

  it.each([
    ['leaf impedance', 'struck leaves', 2, 0.5],
    ['leaf glint', 'struck leaves', 0.5, 2],
    ['housing roof', 'near drops', 2, 0.5],
    ['drop light', 'far drops', 0.5, 2],
    ['splash light', 'splashes', 0.5, 2],
    ['twig drips', 'drips from leaves', 0.5, 2],
  ] as const)('takes another %s where it is doubted', (assumption, part, calmer, livelier) => {
    const seen = (times: number) =>
      moving(
        frames(
          {
            to: { rain: 8 },
            without: only(part),
            foliage: part === 'splashes' ? noLeaves : leaves,
            doubt: { assumption, times },
          },
          60,
        ),
      );
    expect(seen(livelier)).toBeGreaterThan(1.02 * seen(calmer));
  });

  it('leaves drops on a cover that stay from one frame to the next, and blurs behind it', () => {
    const plain = { foliage: new Uint8Array(width * height), to: { rain: 4 } };
    const covered = frames({ ...plain, geometry: { ...defaultGeometry, cover: true } }, 2);
    const bare = frames(plain, 2);
    const edges = (p: Float32Array) => p.reduce((s, v, i) => (i % width ? s + (v - p[i - 1]!) ** 2 : s), 0);
    expect(edges(covered[1]!)).toBeLessThan(0.95 * edges(bare[1]!));
    // Brighter in the same places in both frames.
    const drops = covered.map((p) => lit(p));
    expect(correlation(drops[0]!, drops[1]!)).toBeGreaterThan(0.9);
  });

  it('shows whole grey levels as it shows the same values of another effect', () => {
    // 161 across: what is worked out four pixels at a time must not leave any out.
    const [across, down] = [161, 7];
    const levels = Uint8Array.from({ length: across * down }, (_, i) => i % 256);
    const foliage = Uint8Array.from(levels, (_, i) => (i % 23 < 9 ? 255 : 0));
    const rain = () => createRain(makeSetup(across, down, { foliage, to: { rain: 8 } })).effect!;
    const one = new Float32Array(levels.length);
    rain().apply(one, 0, levels);
    const other = Float32Array.from(levels);
    rain().apply(other, 0);
    expect(one).toEqual(other);
  });

  it('gives the same values for the same seed, and others for another', () => {
    expect(frames({ to: { rain: 6 } }, 4)).toEqual(frames({ to: { rain: 6 } }, 4));
    expect(frames({ to: { rain: 6 }, seed: 'another' }, 4)).not.toEqual(frames({ to: { rain: 6 } }, 4));
  });

  it('keeps to signal values', () => {
    for (const p of frames({ to: { rain: 60 } }, 5)) {
      expect(p.every((v) => v >= 0 && v <= 255 && !Number.isNaN(v))).toBe(true);
    }
  });

  it.each([
    ['none is wanted', {}],
    ['none is wanted but dry weather', { to: { rain: 0 } }],
    ['the recording has as much', { from: { rain: 4 }, to: { rain: 4 } }],
  ])('is nothing where %s', (_, set) => {
    expect(createRain(makeSetup(width, height, set)).effect).toBeNull();
  });

  it('says that a recording was taken for dry', () => {
    const said = createRain(makeSetup(width, height, { from: {}, to: { rain: 1 } })).assumed.join();
    expect(said).toMatch(/recorded in dry weather/);
  });
});

function mean(p: Float32Array): number {
  return p.reduce((a, b) => a + b, 0) / p.length;
}

/** Averages of whole pairs of stripes: what is left is drops. */
function lit(p: Float32Array): Float32Array {
  const across = width / 8;
  const out = new Float32Array(across * (height / 8));
  p.forEach((v, i) => {
    const at = Math.floor(i / width / 8) * across + Math.floor((i % width) / 8);
    out[at]! += v / 64;
  });
  return out;
}

function correlation(a: Float32Array, b: Float32Array): number {
  const [ma, mb] = [mean(a), mean(b)];
  const sum = (f: (i: number) => number) => a.reduce((s, _, i) => s + f(i), 0);
  return (
    sum((i) => (a[i]! - ma) * (b[i]! - mb)) /
    Math.sqrt(sum((i) => (a[i]! - ma) ** 2) * sum((i) => (b[i]! - mb) ** 2))
  );
}
