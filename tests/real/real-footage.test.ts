/**
 * The job on recordings that nobody made for it: data/tree.avi and data/vtest.avi of opencv-doc, a Debian package.
 * They are fetched, never kept in this repository.
 */
import { copyFile, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { cameraSchema } from '../../src/camera/description.js';
import type { Settings } from '../../src/camera/settings.js';
import { type Clip, openClip } from '../../src/clip/open.js';
import { sweepOf } from '../../src/jobs/tune/sweep-clip.js';
import { replayDirectly, replayEvidence } from '../../src/measure/replay.js';
import { Cache } from '../../src/store/cache.js';
import { gridFor } from '../../src/sweep/for-camera.js';
import type { Grid } from '../../src/sweep/grid.js';
import type { Swept } from '../../src/tune/site-result.js';
import { tuneSite } from '../../src/tune/tune.js';
import { type BruteCounts, BruteForce } from './brute-force.js';
import { type Footage, findFootage } from './footage.js';
import { visitors } from './visitors.js';
import { writeWrenClip } from './wren-clip.js';

const found = await findFootage();
const missing = 'missing' in found ? found.missing : null;
const leftOut = missing ? `, left out: ${missing}` : '';
if (missing && !process.env.CI) console.warn(`The tests on real footage are left out: ${missing}`);

it.skipIf(missing && !process.env.CI)(`real footage is there${leftOut}`, () => {
  if (missing) expect.fail(`no real footage to test on: ${missing}`);
});

const frame = 320 * 240;
let dir: string;
let cache: Cache;

beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'perchmark-real-'));
  cache = new Cache(join(dir, 'cache'));
});
afterAll(() => rm(dir, { recursive: true, force: true }));

describe.skipIf(missing)(`a tree in the wind, then a hand${leftOut}`, () => {
  // Frame 53, counted from 0, is the first that shows it; it stays to the end.
  const handAt = 23.133;
  let clip: Clip;

  beforeAll(async () => {
    await copyFile((found as Footage).tree, join(dir, 'tree.avi'));
    await writeFile(join(dir, 'clip.json'), JSON.stringify({ version: 1, frames: 'tree.avi' }));
    // No animal comes into view in this recording; the hand is labelled as one, so that it counts as worth a photo.
    const visits = [{ start: handAt, end: 30, type: 'animal', name: 'hand' }];
    await writeFile(join(dir, 'labels.json'), JSON.stringify({ version: 1, visits }));
    clip = await openClip(dir, { cache });
  });

  const fired = (settings: Settings) => replayEvidence(clip, defaultCamera, settings, null, { cache });
  const beforeHand = (times: readonly number[]) => times.filter((time) => time < handAt);

  it('has the frames and times of the recording', () => {
    expect(clip.times).toHaveLength(68);
    expect(clip.times[53]).toBeCloseTo(handAt, 3);
  });

  it('makes a sensitive setting fire on foliage alone', async () => {
    const sensitive = { threshold: 10, minimumArea: 25, mostChanged: frame, persistence: 1, cooldown: 2 };
    // A trigger at least every third second of the 23 before the hand.
    expect(beforeHand(await fired(sensitive)).length).toBeGreaterThanOrEqual(8);
  });

  it('is tuned to settings that fire on the hand and on nothing else', async () => {
    const grid = gridFor(defaultCamera);
    const swept = await sweepOf(clip, defaultCamera, grid, { cache });
    const { best, allowance } = tuneSite(
      null,
      [{ clip: dir, conditions: [], simulated: false, ...swept }],
      grid,
      {
        kind: 'allowance',
        falsePerHour: 6,
      },
    );
    expect(best.score).toMatchObject({ visits: 1, caught: 1, falseTriggers: 0 });
    expect(allowance?.kept).toBe(true);
    const times = await fired(best.settings);
    expect(times.length).toBeGreaterThan(0);
    expect(beforeHand(times)).toEqual([]);
    console.log(`tree.avi: of ${grid.size} settings ${describeSetting(best.settings)}: fires at ${times} s`);
  });

  it('fires at the same times by direct replay and by evidence', async () => {
    const all = [4, 10, 24, 60].flatMap((threshold) => [
      { threshold, minimumArea: 25, mostChanged: frame, persistence: 1, cooldown: 0 },
      { threshold, minimumArea: 400, mostChanged: frame, persistence: 2, cooldown: 2 },
      { threshold, minimumArea: 100, mostChanged: frame / 10, persistence: 1, cooldown: 5 },
    ]);
    const direct = await replayDirectly(clip, defaultCamera, all, null, { cache });
    for (const [i, settings] of all.entries()) {
      expect(direct[i], describeSetting(settings)).toEqual(await fired(settings));
    }
    expect(new Set(direct.map(String)).size).toBeGreaterThan(6);
  });
});

describe.skipIf(missing)(`figures the size of a wren among leaves in the wind${leftOut}`, () => {
  const camera = cameraSchema.parse({
    version: 1,
    name: 'camera with few positions',
    analysis: { width: 320, height: 240, rate: 5, smooth: 1 },
    reference: { kind: 'previous', lag: 1 },
    shutterLag: 0.5,
    controls: {
      sensitivity: { sets: 'threshold', from: 1, to: 5, step: 1, gives: [50, 10] },
      minimumArea: { sets: 'minimumArea', choices: [10, 25, 40, 55, 100] },
      persistence: { sets: 'persistence', choices: [1, 2, 3] },
      cooldown: { sets: 'cooldown', choices: [1, 3, 10] },
    },
  });
  let grid: Grid;
  let swept: Swept;
  let brute: BruteForce;
  /** By the number of the setting in the grid. */
  let naive: BruteCounts[];

  beforeAll(async () => {
    const wrens = join(dir, 'wrens');
    await writeWrenClip(wrens, found as Footage);
    grid = gridFor(camera);
    swept = await sweepOf(await openClip(wrens, { cache }), camera, grid, { cache });
    brute = await BruteForce.read(wrens);
    naive = settingsOf(grid).map((setting) => brute.count(setting, 0.5));
  });

  it('offers every combination of the dials', () => {
    const all = new Set(settingsOf(grid).map(describeSetting));
    expect(all.size).toBe(5 * 5 * 3 * 3);
  });

  it('gives the counts of brute force for every setting', () => {
    const counts = settingsOf(grid).map((_, i) => {
      const { caught, trueTriggers, falseTriggers, ignoredTriggers } = swept.whole.at(i);
      return { caught, trueTriggers, falseTriggers, ignoredTriggers };
    });
    expect(counts).toEqual(naive);
  });

  it.each([0, 100, 400, 2000])(
    'is tuned to what brute force finds best, %d false an hour allowed',
    (most) => {
      const { best, allowance } = tuneSite(
        null,
        [{ clip: 'wrens', conditions: [], simulated: false, ...swept }],
        grid,
        {
          kind: 'allowance',
          falsePerHour: most,
        },
      );
      const inView = brute.visits.reduce((sum, { start, end }) => sum + end - start, 0);
      const hours = (brute.seconds - inView) / 3600;
      expect(best.score.watchedHours).toBeCloseTo(hours, 9);
      // The rule of best: the highest recall within the allowance, then the fewest false triggers.
      const within = naive.filter((c) => c.falseTriggers / hours <= most);
      expect(allowance?.kept).toBe(within.length > 0);
      const caught = Math.max(...within.map((c) => c.caught));
      const falseTriggers = Math.min(
        ...within.filter((c) => c.caught === caught).map((c) => c.falseTriggers),
      );
      expect(best.score).toMatchObject({ caught, falseTriggers });
      expect(brute.count(best.settings, 0.5)).toMatchObject({ caught, falseTriggers });
      console.log(
        `wrens, at most ${most} false an hour: ${describeSetting(best.settings)}: caught ${caught} of ${visitors.length}, ${falseTriggers} false`,
      );
    },
  );

  it('is hard: what catches every visit fires at leaves, what spares the leaves misses most visits', () => {
    const all = naive.filter((c) => c.caught === visitors.length);
    expect(all.length).toBeGreaterThan(0);
    expect(Math.min(...all.map((c) => c.falseTriggers))).toBeGreaterThanOrEqual(visitors.length);
    const quiet = naive.filter((c) => c.falseTriggers === 0);
    expect(Math.max(...quiet.map((c) => c.caught))).toBeLessThan(visitors.length / 2);
  });

  it('is hard: the most sensitive setting fires at leaves all the time', () => {
    const sensitive = settingsOf(grid).findIndex(
      (s) => s.threshold === 10 && s.minimumArea === 10 && s.persistence === 1 && s.cooldown === 1,
    );
    expect(naive[sensitive]?.falseTriggers).toBeGreaterThan(40);
  });
});

function settingsOf(grid: Grid): Settings[] {
  return Array.from({ length: grid.size }, (_, i) => grid.settingsAt(i));
}

function describeSetting(s: Settings): string {
  return `threshold ${s.threshold}, area ${s.minimumArea} to ${s.mostChanged}, persistence ${s.persistence}, cooldown ${s.cooldown}`;
}
