import { describe, expect, it } from 'vitest';
import { assumptionOf } from '../../src/weather/assumptions.js';
import { defaultGeometry, defaultOptics } from '../../src/weather/defaults.js';
import type { Setup } from '../../src/weather/setup.js';
import { flutterLevel } from '../../src/weather/wind/flutter.js';
import { addSway, branchesOf } from '../../src/weather/wind/sway.js';
import { Net, onNet } from '../../src/weather/wind/warp.js';
import { createWind } from '../../src/weather/wind/wind.js';

const [width, height] = [160, 120];
const stripes = Float32Array.from({ length: width * height }, (_, i) => 120 + 60 * Math.sin((i % width) / 2));

function setup(change: Partial<Setup> = {}): Setup {
  return {
    width,
    height,
    rate: 5,
    length: 20,
    seed: 'wind test',
    geometry: defaultGeometry,
    optics: defaultOptics,
    from: { wind: 1, light: 1000 },
    to: { wind: 5 },
    foliage: new Uint8Array(width * height).fill(255),
    inFront: [],
    sway: 1,
    ...change,
  };
}

/** Frames of a still picture under the wind of a setup. */
function blown(s: Setup, frames = 20, picture = stripes): Float32Array[] {
  const { effect } = createWind(s);
  if (!effect) throw new Error('no wind');
  return Array.from({ length: frames }, (_, k) => {
    const frame = Float32Array.from(picture);
    effect.apply(frame, k / s.rate);
    return frame;
  });
}

/** Mean absolute difference of frames that follow one another, where `counts` says. */
function unrest(frames: readonly Float32Array[], counts: (i: number) => boolean = () => true): number {
  let sum = 0;
  let n = 0;
  for (let k = 1; k < frames.length; k++) {
    for (let i = 0; i < width * height; i++) {
      if (!counts(i)) continue;
      sum += Math.abs(frames[k]![i]! - frames[k - 1]![i]!);
      n++;
    }
  }
  return sum / n;
}

const leftHalf = Uint8Array.from({ length: width * height }, (_, i) => (i % width < width / 2 ? 255 : 0));

describe('wind on a recording', () => {
  it.each([
    ['none is wanted', { to: {} }],
    ['it is no stronger than the recorded', { from: { wind: 4 }, to: { wind: 4 } }],
    ['it is weaker than the recorded', { from: { wind: 4 }, to: { wind: 2 } }],
  ])('adds nothing where %s', (_, change) => {
    expect(createWind(setup(change))).toEqual({ effect: null, assumed: [] });
  });

  it('is the same for the same seed and another for another', () => {
    expect(blown(setup(), 3)).toEqual(blown(setup(), 3));
    expect(blown(setup({ seed: 'another' }), 3)).not.toEqual(blown(setup(), 3));
  });

  it('moves more the more it blows', () => {
    const all = [2, 3, 4, 6].map((wind) => unrest(blown(setup({ to: { wind } }))));
    expect(all).toEqual(all.toSorted((a, b) => a - b));
  });

  it('adds less to a recording that was windy itself', () => {
    const windy = unrest(blown(setup({ from: { wind: 4.5, light: 1000 } })));
    expect(windy).toBeLessThan(0.8 * unrest(blown(setup())));
  });

  it('moves less where sway is doubted', () => {
    expect(unrest(blown(setup({ sway: 0.5 })))).toBeLessThan(unrest(blown(setup())));
  });

  it('simulates no sway where there is no foliage, and says so', () => {
    const { effect, assumed } = createWind(setup({ foliage: new Uint8Array(width * height) }));
    expect(effect).toBeNull();
    expect(assumed).toEqual([expect.stringMatching(/no foliage.*no sway.*labels\.json/)]);
  });

  it('leaves what is far from foliage alone in overcast light', () => {
    const frames = blown(setup({ foliage: leftHalf }));
    expect(unrest(frames, (i) => i % width > width / 2 + 4)).toBe(0);
    expect(unrest(frames, (i) => i % width < width / 2 - 4)).toBeGreaterThan(1);
  });

  it('moves shade beside foliage in sun', () => {
    const sunny = setup({ foliage: leftHalf, from: { wind: 1, light: 40_000 } });
    const beside = (i: number) => i % width > width / 2 + 4;
    expect(unrest(blown(sunny), beside)).toBeGreaterThan(0.05);
  });

  it('leaves animals in front of the foliage still while they are there', () => {
    const box = [0.25, 0.25, 0.5, 0.5] as const;
    const inside = (i: number) => {
      const [x, y] = [(i % width) / width, Math.floor(i / width) / height];
      return x > 0.26 && x < 0.74 && y > 0.26 && y < 0.74;
    };
    const here = blown(setup({ inFront: [{ start: 0, end: 100, box }] }));
    const gone = blown(setup({ inFront: [{ start: 50, end: 100, box }] }));
    expect(unrest(here, inside)).toBe(0);
    expect(unrest(gone, inside)).toBeGreaterThan(1);
  });

  it('never smears an animal beyond its box', () => {
    const animal = Float32Array.from(stripes, (_, i) => {
      const [x, y] = [i % width, Math.floor(i / width)];
      return x >= 60 && x < 100 && y >= 40 && y < 80 ? 255 : 0;
    });
    const box = [60 / width, 40 / height, 40 / width, 40 / height] as const;
    const strong = setup({ to: { wind: 8 }, inFront: [{ start: 0, end: 100, box }] });
    for (const frame of blown(strong, 10, animal)) expect(frame).toEqual(animal);
  });

  it('shakes the whole picture of a camera in a tree', () => {
    const bare = { foliage: new Uint8Array(width * height) };
    expect(
      unrest(blown(setup({ ...bare, geometry: { ...defaultGeometry, mount: 'tree' } }))),
    ).toBeGreaterThan(0.5);
  });

  it('says what it assumes: sway as asked for, and a calm recording where nothing is known', () => {
    const { assumed } = createWind(setup({ from: {}, sway: 2 }));
    const figure = String(2 * assumptionOf('sway').figure);
    expect(assumed.some((a) => /sway assumed/.test(a) && a.includes(figure))).toBe(true);
    expect(assumed.some((a) => a.includes('Beaufort 1'))).toBe(true);
    expect(createWind(setup()).assumed.some((a) => a.includes('Beaufort 1'))).toBe(false);
  });

  it('stays finite over long pauses between frames', () => {
    const { effect } = createWind(setup());
    for (const time of [0, 3600, 3600.2, 1e6]) {
      const frame = Float32Array.from(stripes);
      effect?.apply(frame, time);
      expect(frame.every((v) => v >= 0 && v < 300)).toBe(true);
    }
  });
});

// Branches that stand alike are held from one wind to the next.
const held: [string, Partial<Setup>][] = [
  ['how far they go', { motion: { branches: 2, leaves: 1, rhythm: 1, growth: 1, how: '' } }],
  ['how quickly they go to and fro', { motion: { branches: 1, leaves: 1, rhythm: 1.4, growth: 1, how: '' } }],
  ['how much foliage there is', { foliage: leftHalf }],
  ['how near it is', { geometry: { ...defaultGeometry, foliage: 1 } }],
  ['chance', { seed: 'another' }],
];
it.each(held)('branches that differ in %s sway the same after others have swayed', (_, change) => {
  const bytesOf = (of: Setup) => Buffer.concat(blown(of, 3).map((frame) => Buffer.from(frame.buffer)));
  bytesOf(setup({ seed: 'held by nobody' }));
  const alone = bytesOf(setup(change));
  const other = bytesOf(setup());
  expect(bytesOf(setup(change)).equals(alone)).toBe(true);
  expect(other.equals(alone)).toBe(false);
});

describe('branches', () => {
  const net = new Net(320, 240);
  const branches = branchesOf(net, onNet(net, new Uint8Array(320 * 240).fill(255)), 100, 'branches');

  it('sway no further than their tip', () => {
    expect(Math.max(...branches.shareX.map(Math.abs))).toBeLessThanOrEqual(1);
  });

  it('stand still at their mean lean', () => {
    net.dx.fill(0);
    addSway(net, branches, new Float64Array(branches.list.length).fill(0.4), 0.4, 1, 1);
    expect(net.dx.every((x) => x === 0)).toBe(true);
  });

  const moved = (pull: number) =>
    addSway(net, branches, new Float64Array(branches.list.length).fill(pull), 0, 1, 1);

  it('are springs of their own frequency: 1 m/s2 holds one of 1 Hz 2.53 cm off its rest (1 / (2 pi)^2)', () => {
    moved(1).forEach((pixels, i) => {
      const { frequency } = branches.list[i]!;
      expect((pixels / 100) * frequency ** 2).toBeGreaterThan(0.0245);
      expect((pixels / 100) * frequency ** 2).toBeLessThan(0.02534);
    });
  });

  it('never go farther than they are long', () => {
    moved(1e6).forEach((pixels, i) => {
      expect(pixels / 100).toBeLessThanOrEqual(branches.list[i]!.length);
    });
  });
});

it('leaves flutter before branches move: in half the wind more than a quarter as much (Tadrist et al. 2018)', () => {
  // Drag, which moves branches, falls to a quarter.
  for (const speed of [1, 2, 3, 5, 8]) {
    expect(flutterLevel(speed / 2)).toBeGreaterThan(0.25 * flutterLevel(speed));
  }
});

describe('a net', () => {
  it('moves a picture by whole pixels exactly', () => {
    const net = new Net(width, height);
    net.dx.fill(3);
    const frame = Float32Array.from(stripes);
    net.apply(frame);
    for (let x = 3; x < width - 1; x++)
      expect(frame[10 * width + x]).toBeCloseTo(stripes[10 * width + x - 3]!, 3);
  });

  it('moves by parts of a pixel on straight lines', () => {
    const net = new Net(width, height);
    net.dx.fill(0.25);
    const ramp = Float32Array.from({ length: width * height }, (_, i) => i % width);
    net.apply(ramp);
    expect(ramp[10 * width + 50]).toBeCloseTo(49.75, 3);
  });

  it('draws the edge where something would come from beyond it', () => {
    const net = new Net(width, height);
    net.dx.fill(40);
    net.dy.fill(-40);
    const frame = Float32Array.from(stripes);
    net.apply(frame);
    expect(frame[(height - 1) * width]).toBeCloseTo(stripes[0]!, 3);
  });

  it('brightens where it moves nothing', () => {
    const net = new Net(width, height);
    net.gain.fill(1.5);
    const frame = new Float32Array(width * height).fill(100);
    net.apply(frame);
    expect(frame.every((v) => Math.abs(v - 150) < 1e-3)).toBe(true);
  });
});
