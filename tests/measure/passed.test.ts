import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { needLabels } from '../../src/clip/labelled.js';
import { type Clip, openClip } from '../../src/clip/open.js';
import { sweepOf } from '../../src/jobs/tune/sweep-clip.js';
import { ownConditions } from '../../src/measure/weather/own-conditions.js';
import { Cache } from '../../src/store/cache.js';
import { gridFor } from '../../src/sweep/for-camera.js';
import { drawFrames, small, smallCamera, writeClip } from '../support/clips.js';

const folder = mkdtempSync(join(tmpdir(), 'passed-'));
afterAll(() => rmSync(folder, { recursive: true }));

const FRAMES = 300;
const camera = cameraSchema.parse(smallCamera);
const grid = gridFor(camera);
const labels = { version: 1, visits: [{ start: 10, end: 14, type: 'animal' }] };

/** The clip, with a count of the frames that were decoded. */
async function opened(dir: string): Promise<{ clip: Clip; decoded: () => number }> {
  const clip = await openClip(dir, { cache: new Cache(join(folder, 'opening')) });
  let count = 0;
  const used = async () => {
    count++;
  };
  return { clip: { ...clip, source: { ...clip.source, used } } as Clip, decoded: () => count };
}

describe('what a clip says of its own conditions', async () => {
  const frames = drawFrames(FRAMES, () => null, 'passed', 9);
  const dir = await writeClip(join(folder, 'clip'), frames, labels);
  const alone = await opened(dir);
  const expected = await ownConditions(alone.clip, camera.analysis);

  it('is told from frames that went by when it was first measured', async () => {
    const { clip, decoded } = await opened(dir);
    needLabels(clip);
    await sweepOf(clip, camera, grid, { cache: new Cache(join(folder, 'cache')) });
    expect(decoded()).toBe(FRAMES);
    expect(await ownConditions(clip, camera.analysis)).toEqual(expected);
    // Whether its pictures are in colour is looked up in one of them.
    expect(decoded()).toBeLessThanOrEqual(FRAMES + 1);
  });

  it('is read where its evidence was kept, or of another size', async () => {
    const kept = await opened(dir);
    await sweepOf(kept.clip, camera, grid, { cache: new Cache(join(folder, 'cache')) });
    expect(await ownConditions(kept.clip, camera.analysis)).toEqual(expected);
    expect(kept.decoded()).toBeGreaterThan(1);

    const coarse = {
      ...camera,
      analysis: { ...camera.analysis, width: small.width / 2, height: small.height / 2 },
    };
    const other = await opened(dir);
    await sweepOf(other.clip, coarse, grid, { cache: new Cache(join(folder, 'coarse')) });
    const before = other.decoded();
    expect(await ownConditions(other.clip, camera.analysis)).toEqual(expected);
    expect(other.decoded()).toBeGreaterThan(before + 1);
  });
});
