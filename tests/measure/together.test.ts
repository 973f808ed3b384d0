import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Camera, cameraSchema } from '../../src/camera/description.js';
import type { LabelledClip } from '../../src/clip/labelled.js';
import { openClip } from '../../src/clip/open.js';
import { lookingFor } from '../../src/jobs/tune/sweep-clip.js';
import { evidenceOf, readTogether } from '../../src/measure/evidence.js';
import { Cache } from '../../src/store/cache.js';
import { gridFor } from '../../src/sweep/for-camera.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';

const folder = mkdtempSync(join(tmpdir(), 'together-'));
afterAll(() => rmSync(folder, { recursive: true }));
let caches = 0;
const newCache = () => new Cache(join(folder, `cache-${caches++}`));

/** More than one chunk of evidence. */
const FRAMES = 700;
const visits = Array.from({ length: 7 }, (_, i) => ({
  start: 20 * i + 4,
  end: 20 * i + 8,
  box: [0.1, 0.1, 0.6, 0.6],
}));
const openOne = async (name: string) => {
  const path = (k: number) =>
    k % 100 > 20 && k % 100 < 40 ? { x: 3 * ((k % 100) - 20), y: k % 30, size: 8, level: 170 } : null;
  const dir = await writeClip(join(folder, name), drawFrames(FRAMES, path, 'together'), {
    version: 1,
    visits,
  });
  return (await openClip(dir, { cache: newCache() })) as LabelledClip;
};
let clip: LabelledClip;
beforeAll(async () => {
  clip = await openOne('clip');
});

const cameraWith = (analysis: object, rest: object = {}): Camera =>
  cameraSchema.parse({ ...smallCamera, analysis: { ...smallCamera.analysis, ...analysis }, ...rest });
const cameras = [
  cameraWith({}),
  cameraWith({ width: 32, height: 24, rate: 2.5 }),
  cameraWith({ width: 21, height: 17, smooth: 0, rate: 2 }),
  cameraWith({}, { reference: { kind: 'average', seconds: 3 } }),
  cameraWith({ rate: 1 }, { reference: { kind: 'previous', lag: 2 } }),
];
/** Differs from the first by what follows evidence only. */
const twin = cameraWith({}, { name: 'twin', shutterLag: 0.6 });

const looking = (all: readonly Camera[]) => all.map((camera) => lookingFor(clip, camera, gridFor(camera)));

/** All that is kept, by its place in the cache. */
function kept(cache: Cache): Map<string, Buffer> {
  const files = readdirSync(cache.root, { recursive: true, withFileTypes: true }).filter((f) => f.isFile());
  const all = files.map(({ parentPath, name }) => join(parentPath, name));
  return new Map(all.sort().map((file) => [file.slice(cache.root.length), readFileSync(file)]));
}

async function alone(all: readonly Camera[]): Promise<Map<string, Buffer>> {
  const cache = newCache();
  for (const { camera, mask, floor } of looking(all)) await evidenceOf(clip, camera, mask, floor, { cache });
  return kept(cache);
}

describe('reading for several cameras', () => {
  it('keeps to the byte what each keeps by itself: evidence, boxes, pieces', async () => {
    const cache = newCache();
    await readTogether(clip, looking(cameras), { cache });
    const each = kept(cache);
    expect(each).toEqual(await alone(cameras));
    for (const kind of ['evidence', 'boxes', 'pieces']) {
      expect([...each.keys()].some((file) => file.startsWith(`/${kind}/`))).toBe(true);
    }
  });

  it('goes on where a run was broken off, and then keeps the same', async () => {
    const cache = newCache();
    let read = 0;
    const breaking = {
      cache,
      onProgress: (done: number) => {
        if (done === 1700) throw new Error('the disk was taken away');
      },
    };
    await expect(readTogether(clip, looking(cameras), breaking)).rejects.toThrow('taken away');
    await readTogether(clip, looking(cameras), { cache, onProgress: () => read++ });
    // Two of the cameras look at every frame, and had finished a chunk of 512.
    expect(read).toBe(FRAMES * (1 + 0.5 + 0.4 + 1 + 0.2) - 2 * 512);
    // Pieces are noted in one go or not at all; the rest is as if nothing had happened.
    const evidence = (all: Map<string, Buffer>) => [...all].filter(([file]) => file.startsWith('/evidence/'));
    expect(evidence(kept(cache))).toEqual(evidence(await alone(cameras)));
  });

  it('reads nothing again of what is kept, and once for cameras that see alike', async () => {
    const cache = newCache();
    let frames = 0;
    const counting = { cache, onProgress: () => frames++ };
    await readTogether(clip, looking([cameras[0]!, twin]), counting);
    expect(frames).toBe(FRAMES);
    await readTogether(clip, looking([cameras[0]!, twin]), counting);
    expect(frames).toBe(FRAMES);
    await readTogether(clip, looking([cameras[0]!, cameras[1]!]), counting);
    expect(frames).toBe(FRAMES + FRAMES / 2);
  });

  it('then needs no picture to give evidence', async () => {
    const gone = await openOne('gone');
    const cache = newCache();
    await readTogether(gone, looking(cameras), { cache });
    rmSync(join(folder, 'gone', 'frames'), { recursive: true });
    for (const { camera, mask, floor } of looking(cameras)) {
      const evidence = await evidenceOf(gone, camera, mask, floor, { cache });
      const columns = await evidence.columns([floor], 'changed');
      expect(columns.get(floor)!.some((pixels) => pixels > 0)).toBe(true);
    }
  });
});
