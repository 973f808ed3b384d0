import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { type LabelledClip, needLabels } from '../../src/clip/labelled.js';
import { openClip } from '../../src/clip/open.js';
import { isKnown, sampleOf, sweepSimulated } from '../../src/jobs/tune/simulate.js';
import { Cache } from '../../src/store/cache.js';
import { gridFor } from '../../src/sweep/for-camera.js';
import { weatherToTry } from '../../src/tune/weather-to-try.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { drawStillLife } from '../weather/still-life.js';

const folder = mkdtempSync(join(tmpdir(), 'simulate-'));
afterAll(() => rmSync(folder, { recursive: true }));
const cache = new Cache(join(folder, 'cache'));
const camera = cameraSchema.parse(smallCamera);
const grid = gridFor(camera);
const conditions = { wind: 1, rain: 0, light: 20_000 };
let clip: LabelledClip;

beforeAll(async () => {
  // Crossings at 10 s and, three of them, from 150 s on; 200 s in all.
  const path = (k: number) => {
    const since = [50, 750, 800, 850].map((start) => k - start).find((d) => d >= 0 && d < 10);
    return since === undefined ? null : { x: 2 + since * 5, y: 20, size: 8, level: 190 };
  };
  const visits = [10, 150, 160, 170].map((start) => ({ start, end: start + 2, type: 'animal' }));
  const foliage = [
    [
      [0, 0],
      [1, 0],
      [1, 0.5],
      [0, 0.5],
    ],
  ];
  const dir = await writeClip(
    join(folder, 'clip'),
    drawFrames(1000, path, 'simulate', 20),
    { version: 1, visits, foliage },
    {
      rate: 5,
      conditions,
    },
  );
  const opened = await openClip(dir, { cache });
  needLabels(opened);
  clip = opened;
});

describe('weather put onto a clip inside tuning', () => {
  it('takes the stretch with most visits, gives the same again, and reads no frame twice', async () => {
    const wanted = weatherToTry(['wind', 'low light'], conditions);
    const first = await sweepSimulated(clip, camera, grid, wanted, '7', { cache });
    expect(first.sample.end - first.sample.start).toBeCloseTo(90, 6);
    expect(first.sweeps[0]?.counts.truth.visits.map((v) => v.start)).toEqual([150, 160, 170]);
    expect(first.visits).toBe(3);
    const read: number[] = [];
    const again = await sweepSimulated(clip, camera, grid, wanted, '7', {
      cache,
      onProgress: (k) => read.push(k),
    });
    expect(read).toEqual([]);
    expect(again.sweeps.map((s) => s.counts.caught)).toEqual(first.sweeps.map((s) => s.counts.caught));
  });

  it('names what it assumes and which defaults it used', async () => {
    const { assumed, defaults } = await sweepSimulated(
      clip,
      camera,
      grid,
      weatherToTry(['wind'], conditions),
      '7',
      {
        cache,
      },
    );
    expect(assumed.join()).toMatch(/sway/);
    expect(defaults.join()).toMatch(/hfov/);
  });

  it('has the noise of another clip of the camera, where one is given', async () => {
    const still = { width: 64, height: 48, gain: 0.4, readNoise: 4, seed: 'build-tune' };
    const dir = await writeClip(join(folder, 'still'), drawStillLife(still, 80), null, {
      rate: 5,
      conditions,
    });
    const noiseFrom = await openClip(dir, { cache });
    const wanted = weatherToTry(['low light'], conditions);
    const { assumed } = await sweepSimulated(clip, camera, grid, wanted, '7', { cache, noiseFrom });
    expect(assumed.join()).toMatch(/sensor noise measured on .*still by photon transfer/);
  });

  it('measures sway on two clips where a windier one is given, and says why where that one cannot tell', async () => {
    const [shaken, plain] = [60, 20].map((noise) => drawFrames(100, () => null, 'windy', noise));
    const half = shaken![0]!.length / 2;
    const leaves = shaken!.map((grey, k) => Uint8Array.from(grey, (v, i) => (i < half ? v : plain![k]![i]!)));
    const wanted = weatherToTry(['wind'], conditions).slice(0, 1);
    const against = async (name: string, frames: Uint8Array[]) => {
      const about = { rate: 5, conditions: { ...conditions, wind: 3 } };
      const dir = await writeClip(
        join(folder, name),
        frames,
        { version: 1, visits: [], foliage: clip.labels.foliage },
        about,
      );
      const swayFrom = await openClip(dir, { cache });
      return sweepSimulated(clip, camera, grid, wanted, '7', { cache, swayFrom });
    };
    const measured = await against('windy', leaves);
    expect(measured.assumed.join()).toMatch(/two clips, .*windy \(Beaufort 3/);
    const refused = await against('restless', shaken!);
    expect(refused.defaults.join()).toMatch(
      /sway was not measured on two clips, because .*noise or a shaking camera, not wind(,|$)/,
    );
    expect(refused.assumed.join()).not.toMatch(/two clips/);
  });

  it('fires more the stronger the wind, at the most sensitive', async () => {
    const { sweeps } = await sweepSimulated(clip, camera, grid, weatherToTry(['wind'], conditions), '7', {
      cache,
    });
    const most = grid.size - grid.dials.slice(1).reduce((n, d) => n * d.positions.length, 1);
    const fired = (strength: number, times?: number) =>
      sweeps.find((s) => s.strength === strength && s.doubt?.times === times)!.counts.falseTriggers[most]!;
    expect(fired(6)).toBeGreaterThanOrEqual(fired(6, 0.5));
    expect(fired(6)).toBeGreaterThan(0);
  });
});

describe('what is doubted', () => {
  it('is not what was measured on the clip, as far as that told it', () => {
    const motion = { branches: 0.6, leaves: 0.35, rhythm: 1, growth: 1, how: '', told: ['leaves'] as const };
    expect(isKnown('flutter', {}, { motion })).toBe(true);
    expect(isKnown('sway', {}, { motion })).toBe(false);
    expect(isKnown('sway', {}, { motion: { ...motion, told: ['branches'] } })).toBe(true);
    expect(isKnown('flutter', {}, {})).toBe(false);
    expect(isKnown('shelter', {}, { motion })).toBe(false);
    expect(isKnown('shelter', {}, { motion: { ...motion, told: ['branches', 'leaves'] } })).toBe(true);
  });
});

it('is not what camera.json or clip.json says of lens and place', () => {
  expect(isKnown('field of view', { lens: { hfov: 60 } }, {})).toBe(true);
  expect(isKnown('field of view', {}, {}, { subject: 2 })).toBe(false);
  expect(isKnown('subject distance', {}, {}, { subject: 2 })).toBe(true);
  expect(isKnown('foliage distance', {}, {}, { subject: 2 })).toBe(false);
  expect(isKnown('foliage distance', {}, {}, { foliage: 2 })).toBe(true);
  expect(isKnown('camera height', {}, {}, { height: 2 })).toBe(true);
});

describe('the sample that weather is put onto', () => {
  it('is the earliest stretch with the most whole visits', () => {
    const random = seedrandom('stretches');
    for (let round = 0; round < 200; round++) {
      const seconds = 50 + 5000 * random() ** 2;
      const visits = Array.from({ length: Math.floor(6 * random()) }, () => {
        const start = seconds * random();
        return { start, end: Math.min(seconds, start + 60 * random() ** 2) };
      });
      const { start, end } = sampleOf(visits, seconds);
      const length = Math.min(seconds, Math.max(90, Math.min(600, 0.4 * seconds)));
      expect(end - start).toBeCloseTo(length, 9);
      const inside = (from: number) =>
        visits.filter((v) => v.start >= from - 1e-9 && v.end <= from + length + 1e-9).length;
      // Whether the very last start counts is a matter of rounding.
      for (let i = 0; (i * length) / 4 < seconds - length - 1e-6; i++) {
        const other = (i * length) / 4;
        if (other < start - 1e-6) expect(inside(other)).toBeLessThan(inside(start));
        else expect(inside(other)).toBeLessThanOrEqual(inside(start));
      }
    }
  });

  it('is found at once in a clip with a pause of thirty years', () => {
    const visits = [
      { start: 5, end: 8 },
      { start: 9e8, end: 9e8 + 3 },
      { start: 9e8 + 9, end: 9e8 + 12 },
    ];
    const { start, end } = sampleOf(visits, 1e9);
    expect(start).toBeLessThanOrEqual(9e8);
    expect(end).toBeGreaterThanOrEqual(9e8 + 12);
  });
});
