import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Camera, cameraSchema } from '../../src/camera/description.js';
import type { ResolvedSettings } from '../../src/camera/settings.js';
import { type Clip, openClip } from '../../src/clip/open.js';
import { openReplayed } from '../../src/diagnose/replayed-clip.js';
import { lookAtTriggers } from '../../src/diagnose/triggers/explain.js';
import { replay } from '../../src/jobs/replay.js';
import { sweepOf } from '../../src/jobs/tune/sweep-clip.js';
import { tune } from '../../src/jobs/tune.js';
import { judgeClip, replayClip } from '../../src/measure/replay.js';
import { Cache } from '../../src/store/cache.js';
import { Grid } from '../../src/sweep/grid.js';
import { camera, drawn, type Square, settings } from '../diagnose/made.js';
import { writeClip } from '../support/clips.js';

const folder = mkdtempSync(join(tmpdir(), 'luck-'));
afterAll(() => rmSync(folder, { recursive: true }));
let caches = 0;
const newCache = () => new Cache(join(folder, `cache-${caches++}`));
const cache = newCache();

const ROUNDS = 16;
const each = (of: (round: number, first: number) => Square[]) =>
  Array.from({ length: ROUNDS }, (_, i) => of(i, 50 * i)).flat();
const left: [number, number] = [4, 30];
const right: [number, number] = [40, 4];
/** Low on the left, where animals are: of every second round one is seen by every dial, the others do not stir. */
const animals = each((i, first) =>
  i % 2 === 0 ? [{ at: left, size: 6, grey: 200, from: first + 20, to: first + 26 }] : [],
);
/** High on the right a branch that only the higher sensitivities see: in every visit, and once in every second round outside. */
const branch = each((i, first) => [
  { at: right, size: 8, grey: 128, from: first + 22, to: first + 24 },
  ...(i % 2 === 0 ? [{ at: right, size: 8, grey: 128, from: first + 40, to: first + 41 }] : []),
]);
const box = [0.03, 0.55, 0.3, 0.3];
const visits = Array.from({ length: ROUNDS }, (_, i) => ({
  start: 10 * i + 4,
  end: 10 * i + 6,
  type: 'animal',
  // Of one it is not said where it was.
  ...(i !== 3 && { box }),
}));
/** Two that another's photos show as well: one where the branch is, one where nothing ever moves. */
const others = [
  { start: 54.5, end: 55.5, type: 'animal', name: 'wren', box: [0.6, 0.05, 0.3, 0.3] },
  { start: 64.5, end: 65.5, type: 'animal', name: 'hedgehog', box: [0.8, 0.8, 0.1, 0.1] },
];

const cameraWith = (rest: object): Camera => cameraSchema.parse({ ...camera, ...rest });
const sensitive: ResolvedSettings = { ...settings, threshold: 18, cooldown: 1 };
const written = async (name: string, labels: object): Promise<Clip> => {
  const frames = drawn(50 * ROUNDS, [...animals, ...branch]);
  return openClip(await writeClip(join(folder, name), frames, { version: 1, ...labels }), { cache });
};
let clip: Clip;
beforeAll(async () => {
  clip = await written('clip', { visits: [...visits, ...others] });
});

const judged = async (of: Clip, with_: Camera, under: ResolvedSettings, kept = cache) =>
  judgeClip(of, with_, under, await replayClip(of, with_, under, { cache: kept }), { cache: kept });

describe('visits caught by luck', () => {
  it('are those that only something outside their box fired for, and are caught all the same', async () => {
    const { total, clips } = await replay({ clips: [clip], camera, settings: sensitive }, { cache });
    // The rounds in which the animal does not stir, but for the one without a box; and the hedgehog.
    expect(total).toMatchObject({ visits: 18, caught: 18, byLuck: 8 });
    expect(clips[0]?.visits.flatMap(({ byLuck }, i) => (byLuck === undefined ? [i] : []))).toEqual([3]);
  });

  it.each([
    { name: 'the largest region', rest: {} },
    { name: 'all changed pixels', rest: { area: 'changed' } },
    { name: 'a frame further back', rest: { reference: { kind: 'previous', lag: 3 } } },
    { name: 'an average', rest: { reference: { kind: 'average', seconds: 1.5 } } },
    { name: 'fewer frames, smoothed', rest: { analysis: { ...camera.analysis, rate: 2.5, smooth: 1 } } },
    { name: 'several photos', rest: { burst: { photos: 3, interval: 1 } } },
  ])('are the same to replay, to diagnose and to the sweep of every setting: $name', async ({ rest }) => {
    const one = cameraWith(rest);
    const grid = new Grid(one);
    const { whole } = await sweepOf(clip, one, grid, { cache });
    let most = 0;
    for (let setting = 0; setting < grid.size; setting++) {
      const under = { ...grid.settingsAt(setting), warnings: [] };
      const { visits: seen, counts } = await judged(clip, one, under);
      expect(whole.at(setting)).toEqual(counts);
      most = Math.max(most, counts?.byLuck ?? 0);
      if (setting % 5 > 0) continue;
      const { byLuck, dispose } = await lookAtTriggers(await openReplayed(clip, one, under, { cache }), {
        cache,
      });
      await dispose();
      expect(seen.flatMap((visit, i) => (visit.byLuck ? [i] : []))).toEqual(byLuck);
    }
    expect(most).toBeGreaterThan(0);
  });

  it('are the same where boxes come to labels later, in whatever part of the frames that reads again', async () => {
    for (const reference of [
      { kind: 'previous', lag: 2 },
      { kind: 'average', seconds: 1.5 },
    ]) {
      const one = cameraWith({ reference });
      const kept = newCache();
      const bare = { ...clip, labels: { ...clip.labels!, visits: [] } };
      expect((await judged(bare, one, sensitive, kept)).counts).toMatchObject({ boxed: 0, byLuck: 0 });
      const later = await judged(clip, one, sensitive, kept);
      expect(later).toEqual(await judged(clip, one, sensitive, newCache()));
      expect(later.counts?.byLuck).toBeGreaterThan(0);
    }
  });

  it('are not within a mask: what is not watched fires for nobody', async () => {
    const mask: [number, number][][] = [
      [
        [0, 0.5],
        [0.5, 0.5],
        [0.5, 1],
        [0, 1],
      ],
    ];
    const { counts } = await judged(clip, camera, { ...sensitive, mask });
    expect(counts).toMatchObject({ caught: 18, byLuck: 16 });
  });

  it('cannot be told without boxes, nor where the reference depends on the triggers', async () => {
    const plain = visits.map(({ start, end }) => ({ start, end, type: 'animal' as const }));
    const bare = { ...clip, labels: { ...clip.labels!, visits: plain } };
    const { total } = await replay({ clips: [bare], camera, settings: sensitive }, { cache });
    expect(total.byLuck).toBeNull();
    const frozen = cameraWith({ reference: { ...camera.reference, whileBusy: 'frozen' } });
    const without = await replay({ clips: [clip], camera: frozen, settings: sensitive }, { cache });
    expect(without.total.byLuck).toBeNull();
  });
});

describe('a recommendation', () => {
  const recommendedFor = async (labels: object) => {
    const of = await written(`tuned ${JSON.stringify(labels).length}`, labels);
    const { sites } = await tune({ clips: [of], camera, recordedOnly: true }, { cache });
    return sites[0]!;
  };

  it('does not rest on visits caught by luck, and says how many the best on the clips owes to it', async () => {
    const [told, untold] = [
      await recommendedFor({ visits: visits.map((visit) => ({ ...visit, box })) }),
      await recommendedFor({ visits: visits.map(({ box: _, ...visit }) => visit) }),
    ];
    expect(untold.recommended.settings.threshold).toBeLessThanOrEqual(18);
    expect(told.recommended.settings.threshold).toBeGreaterThan(18);
    expect(told.recommended.score).toMatchObject({ caught: 8, byLuck: 0, falseTriggers: 0 });
    // What is best on the clips is so by all visits caught, with boxes or without.
    expect(told.best.settings).toEqual(untold.best.settings);
    expect(told.best.score).toMatchObject({ caught: 16, byLuck: 8 });
    expect(untold.best.score.byLuck).toBeNull();
  });
});
