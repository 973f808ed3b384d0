import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { needLabels } from '../../src/clip/labelled.js';
import { openClip } from '../../src/clip/open.js';
import { type LookedThrough, lightLimitBegins, lightLimitOf } from '../../src/jobs/tune/limit.js';
import { sweepSimulated } from '../../src/jobs/tune/simulate.js';
import { Cache } from '../../src/store/cache.js';
import { gridFor } from '../../src/sweep/for-camera.js';
import type { Goal } from '../../src/tune/goal.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';

const folder = mkdtempSync(join(tmpdir(), 'limit-'));
afterAll(() => rmSync(folder, { recursive: true }));
const cache = new Cache(join(folder, 'cache'));
const within = { kind: 'allowance', falsePerHour: 60 } as const;

/** Bright crossings, so many of them and so many seconds apart, each with a box round its way. */
async function crossings(name: string, count: number, manifest: object, apart = 12) {
  const seconds = apart * count;
  const path = (k: number) => {
    const since = k % (5 * apart);
    return since >= 20 && since < 30 ? { x: 2 + (since - 20) * 5, y: 20, size: 10, level: 220 } : null;
  };
  const visits = Array.from({ length: count }, (_, i) => ({
    start: apart * i + 4,
    end: apart * i + 6,
    type: 'animal',
    box: [0, 0.2, 1, 0.6],
  }));
  const frames = drawFrames(5 * seconds, path, 'limit', 5);
  const dir = await writeClip(join(folder, name), frames, { version: 1, visits }, { rate: 5, ...manifest });
  const clip = await openClip(dir, { cache });
  needLabels(clip);
  return clip;
}

async function limitFor(
  name: string,
  count: number,
  manifest: object,
  how: { exposure?: object; apart?: number; where?: LookedThrough; goal?: Goal } = {},
) {
  const { exposure, apart, where = 'sample', goal = within } = how;
  const camera = cameraSchema.parse({ ...smallCamera, ...(exposure && { exposure }) });
  const clip = await crossings(name, count, manifest, apart);
  return lightLimitOf(clip, camera, gridFor(camera), goal, '1', { cache }, where);
}

const recorded = {
  conditions: { wind: 0, rain: 0, light: 20_000 },
  start: '2026-05-04T06:10:00+01:00',
  place: { latitude: 51.5, longitude: -3.2 },
};

describe('the limit of use of a clip', () => {
  it('lies, to a stop, between a light of use and one of none, and has its times', {
    timeout: 120_000,
  }, async () => {
    const { tells, lux, levels, times, missing, visits } = await limitFor('known', 10, recorded);
    expect(tells).toBe('a limit');
    // Of ten, those in a sample of 90 s.
    expect(visits).toBe(8);
    const next = levels.find((level) => level.lux < lux.value!)!;
    expect(lux.value! / next.lux).toBeLessThan(2.1);
    expect(levels.find((level) => level.lux === lux.value)!.share).toBeGreaterThanOrEqual(0.5);
    expect(next.share).toBeLessThan(0.5);
    expect(times).toMatchObject({ date: '2026-05-04', zone: '+01:00' });
    expect(missing).toEqual([]);
  });

  it('is darker for a camera that exposes longer', { timeout: 120_000 }, async () => {
    const short = await limitFor('short', 8, recorded, { exposure: { longest: 0.004, mostGain: 2 } });
    const long = await limitFor('long', 8, recorded, { exposure: { longest: 0.2, mostGain: 16 } });
    expect(long.lux.value ?? 0).toBeLessThan(short.lux.value ?? Number.POSITIVE_INFINITY);
  });

  it('is too little to tell with seven visits, and then nothing is read', async () => {
    const few = await limitFor('few', 7, {});
    expect(few).toMatchObject({ tells: 'too little', visits: 7, levels: [], times: null });
    expect(few.missing).toEqual(['start', 'place', 'conditions.light']);
  });

  it('is told of all of a short clip where it may take long', { timeout: 120_000 }, async () => {
    expect(await limitFor('sparse', 8, recorded, { apart: 20 })).toMatchObject({
      tells: 'too little',
      levels: [],
      inWhole: 8,
    });
    const all = await limitFor('all', 8, recorded, { apart: 20, where: 'all of a short clip' });
    expect(all).toMatchObject({ tells: 'a limit', visits: 8, inWhole: null });
  });

  it('is the same where what it begins with was measured along with other weather, and reads its sample once less', {
    timeout: 120_000,
  }, async () => {
    const clip = await crossings('along', 8, recorded);
    const camera = cameraSchema.parse(smallCamera);
    const grid = gridFor(camera);
    const found = async (kept: Cache) => {
      let read = 0;
      const onProgress = () => {
        read++;
      };
      const limit = await lightLimitOf(clip, camera, grid, within, '1', { cache: kept, onProgress });
      return { limit, read };
    };
    const alone = await found(new Cache(join(folder, 'alone')));
    const kept = new Cache(join(folder, 'together'));
    const rain = [{ condition: 'rain', to: { rain: 8 }, strength: 8 }] as const;
    await sweepSimulated(clip, camera, grid, rain, '1', { cache: kept, along: lightLimitBegins(clip) });
    const after = await found(kept);
    expect(after.limit).toEqual(alone.limit);
    // A sample of 90 s at five frames a second.
    expect(alone.read - after.read).toBe(450);
  });

  it('begins with nothing where its sample holds too few visits', async () => {
    expect(lightLimitBegins(await crossings('seven', 7, recorded))).toEqual([]);
  });

  it('is none of use where noise alone fires at every visit, though photos of nothing cost little', {
    timeout: 120_000,
  }, async () => {
    // By noise alone all eight are caught in every light that is tried, down to 0.08 lux.
    const goal = { kind: 'worth', photos: 1000, photosPerTrigger: 1 } as const;
    const { tells } = await limitFor('noisy', 8, recorded, {
      goal,
      exposure: { longest: 0.01, mostGain: 64 },
    });
    expect(tells).toBe('a limit');
  });
});
