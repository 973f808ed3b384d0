import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Camera, cameraSchema } from '../../src/camera/description.js';
import { floorFor } from '../../src/camera/floor.js';
import { drawMask } from '../../src/camera/mask.js';
import { type Clip, openClip } from '../../src/clip/open.js';
import type { Polygon } from '../../src/engine/mask.js';
import { evidenceOf } from '../../src/measure/evidence.js';
import { replayDirectly, replayEvidence } from '../../src/measure/replay.js';
import { Cache } from '../../src/store/cache.js';
import { gridFor } from '../../src/sweep/for-camera.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';

const folder = mkdtempSync(join(tmpdir(), 'replay-'));
/** More than a chunk of evidence holds. */
const FRAMES = 1150;
let clip: Clip;
let caches = 0;
const newCache = () => new Cache(join(folder, `cache-${caches++}`));
/** Evidence of the clip as the plain camera sees it, made once; nothing else is ever kept in there. */
const made = newCache();
let whole: Map<number, Uint32Array>;
/** A cache in which an earlier run has kept that evidence. */
function usedCache(): Cache {
  const cache = newCache();
  cpSync(made.root, cache.root, { recursive: true });
  return cache;
}
const cameraWith = (rest: object): Camera => cameraSchema.parse({ ...smallCamera, ...rest });
const camera = cameraWith({});

beforeAll(async () => {
  // A square that comes and goes at many speeds, over noise strong enough to reach the lower dials.
  const path = (k: number) => {
    const along = k % 37;
    return along < 12
      ? { x: (along * (1 + (k % 5))) % 58, y: (k % 7) * 5, size: 2 + (k % 9), level: 100 + (k % 60) }
      : null;
  };
  await writeClip(join(folder, 'clip'), drawFrames(FRAMES, path, 'replay', 7), { version: 1, visits: [] });
  clip = await openClip(join(folder, 'clip'), { cache: newCache() });
  whole = await columnsOf(made);
});
afterAll(() => rmSync(folder, { recursive: true }));

const levels = [10, 18, 32];
const columnsOf = async (cache: Cache) =>
  (await evidenceOf(clip, camera, null, 4, { cache })).columns(levels, 'region');

const leftHalf: Polygon[] = [
  [
    [0, 0],
    [0.5, 0],
    [0.5, 1],
    [0, 1],
  ],
];
const cameras: { name: string; rest: object; mask?: Polygon[] }[] = [
  { name: 'the previous frame', rest: {} },
  { name: 'a frame further back', rest: { reference: { kind: 'previous', lag: 3 } } },
  { name: 'an average', rest: { reference: { kind: 'average', seconds: 1.5 } } },
  { name: 'all changed pixels', rest: { area: 'changed' } },
  { name: 'fewer frames than were recorded', rest: { analysis: { ...smallCamera.analysis, rate: 2 } } },
  { name: 'a mask', rest: {}, mask: leftHalf },
];

describe('evidence and direct replay', () => {
  // One for all cameras, as a user has it: what is kept for one must not be taken for another.
  let cache: Cache;
  beforeAll(() => {
    cache = usedCache();
  });

  it.each(cameras)('give the same triggers under every setting: $name', async ({ rest, mask }) => {
    const one = cameraWith(rest);
    const drawn = drawMask(mask, one);
    const grid = gridFor(one);
    const all = Array.from({ length: grid.size }, (_, i) => grid.settingsAt(i));
    const direct = await replayDirectly(clip, one, all, drawn, { cache });
    expect(direct.some((times) => times.length > 0)).toBe(true);
    for (const [i, settings] of all.entries()) {
      expect(await replayEvidence(clip, one, settings, drawn, { cache })).toEqual(direct[i]);
    }
  });
});

describe('kept evidence', () => {
  it('goes on from what an interrupted run had, to the same evidence', async () => {
    const cache = newCache();
    const stop = new AbortController();
    const interrupted = evidenceOf(clip, camera, null, 4, {
      cache,
      signal: stop.signal,
      onProgress: (done) => done === 1100 && stop.abort(),
    });
    await expect(interrupted).rejects.toThrow();
    const steps: number[] = [];
    const evidence = await evidenceOf(clip, camera, null, 4, {
      cache,
      onProgress: (done) => steps.push(done),
    });
    expect(steps[0]).toBe(1025);
    expect(await evidence.columns(levels, 'region')).toEqual(whole);
  });

  it('is not read again from the frames by a second run', async () => {
    const cache = usedCache();
    const steps: number[] = [];
    await evidenceOf(clip, camera, null, 4, { cache, onProgress: (done) => steps.push(done) });
    expect(steps).toEqual([]);
  });

  it.each(['a flipped bit', 'a truncated file', 'a missing file'])(
    'that has %s is made again',
    async (damage) => {
      const cache = usedCache();
      const set = join(cache.path('evidence'), readdirSync(cache.path('evidence'))[0]!);
      const file = join(set, readdirSync(set)[1]!);
      const bytes = readFileSync(file);
      if (damage === 'a flipped bit') {
        bytes[bytes.length - 9] = (bytes.at(-9) as number) ^ 4;
        writeFileSync(file, bytes);
      } else if (damage === 'a truncated file') writeFileSync(file, bytes.subarray(0, bytes.length >> 1));
      else rmSync(file);
      expect(await columnsOf(cache)).toEqual(whole);
    },
  );

  it('is whole when two runs make it at once', async () => {
    const cache = newCache();
    const [one, two] = await Promise.all([columnsOf(cache), columnsOf(cache)]);
    expect(one).toEqual(two);
    expect(await columnsOf(cache)).toEqual(one);
  });

  it('is kept from the lowest dial on, or from 1 for settings below it', () => {
    expect(floorFor(camera, 18)).toBe(4);
    expect(floorFor(camera, 4)).toBe(4);
    expect(floorFor(camera, 3)).toBe(1);
  });
});
