import { linkSync, mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import sharp from 'sharp';
import { afterAll, it } from 'vitest';
import { defaultCamera } from '../../../src/camera/default.js';
import { type Camera, cameraSchema } from '../../../src/camera/description.js';
import { photosFor } from '../../../src/camera/timing.js';
import { openClip } from '../../../src/clip/open.js';
import { tune } from '../../../src/jobs/tune.js';
import { evidenceOf, evidenceUnder } from '../../../src/measure/evidence.js';
import { truthOf } from '../../../src/score/truth.js';
import { Cache } from '../../../src/store/cache.js';
import { EvidenceStore } from '../../../src/store/evidence-store.js';
import { sweepCamera } from '../../../src/sweep/for-camera.js';
import { Grid } from '../../../src/sweep/grid.js';
import { outcomesAt } from '../../../src/sweep/outcomes.js';
import { sweepClip } from '../../../src/sweep/sweep.js';
import { FLOOR, madeEvidence, madeVisits, RATE } from '../made-evidence.js';
import { scratch, writeStills } from '../recordings.js';
import { grown, holdStraight } from './grown.js';

/** Half as much again is what a busy machine scatters by. */
const STRAIGHT = 1.5;
const { folder, remove } = scratch();
afterAll(remove);

let caches = 0;
/** A cache of its own for each reading, taken away afterwards. */
async function withCache<T>(act: (cache: Cache) => Promise<T>): Promise<T> {
  const place = join(folder, `cache ${caches++}`);
  mkdirSync(place);
  const result = await act(new Cache(place));
  rmSync(place, { recursive: true });
  return result;
}

/** The default camera with 5 positions of the cooldown's dial, 20 of the area's, and as many of the others as are asked for. */
function cameraOf(thresholds: number, persistences: number): Camera {
  const upTo = (n: number) => Array.from({ length: n }, (_, i) => i + 1);
  return cameraSchema.parse({
    ...defaultCamera,
    controls: {
      sensitivity: {
        sets: 'threshold',
        from: 1,
        to: thresholds,
        step: 1,
        gives: [FLOOR + thresholds - 1, FLOOR],
      },
      minimumArea: { sets: 'minimumArea', choices: upTo(20).map((i) => 10 * i ** 2) },
      persistence: { sets: 'persistence', choices: upTo(persistences) },
      cooldown: { sets: 'cooldown', choices: [1, 3, 8, 20, 45] },
    },
  });
}

/** A sweep over made evidence that is kept. */
async function madeHours(hours: number): Promise<(camera: Camera) => Promise<unknown>> {
  const frames = 3600 * RATE * hours;
  const store = new EvidenceStore(new Cache(join(folder, 'made')), `${hours}`, frames, FLOOR);
  const visits = madeVisits(frames, `${hours}`);
  for (const row of madeEvidence(frames, visits, `${hours}`)) await store.append(row);
  const times = Float64Array.from({ length: frames }, (_, k) => k / RATE);
  const labels = {
    version: 1 as const,
    visits: visits.map((visit) => ({ ...visit, type: 'animal' as const })),
  };
  const truth = truthOf(labels, frames / RATE);
  return (camera) =>
    sweepClip(
      {
        times,
        truth,
        outcomes: outcomesAt(times, (time) => photosFor(camera, time), truth),
        columns: (levels, kind) => store.columns(levels, kind),
        bothColumns: (levels) => store.bothColumns(levels),
      },
      new Grid(camera),
      sweepCamera(camera),
    );
}

it('reading, by frames', async () => {
  const amounts = [600, 2400, 14_400];
  const clips = new Map<number, string>();
  for (const frames of amounts) clips.set(frames, await writeStills(join(folder, `${frames}`), frames, 0.5));
  const points = await grown(
    amounts,
    (frames) =>
      withCache(async (cache) =>
        evidenceOf(await openClip(clips.get(frames)!, { cache }), defaultCamera, null, FLOOR, { cache }),
      ),
    1,
  );
  holdStraight('Opening and reading stills of 640x480, half of which sways', 'frames', points, STRAIGHT);
});

it('a sweep, by hours of evidence', async () => {
  const camera = cameraOf(10, 1);
  const sweeps = new Map<number, Awaited<ReturnType<typeof madeHours>>>();
  for (const hours of [1, 4, 24]) sweeps.set(hours, await madeHours(hours));
  const points = await grown([1, 4, 24], (hours) => sweeps.get(hours)!(camera));
  holdStraight('A sweep of 1,000 settings', 'hours', points, STRAIGHT);
});

it('a sweep, by settings', async () => {
  const sweep = await madeHours(1);
  const cameras = new Map([
    [1000, cameraOf(10, 1)],
    [10_000, cameraOf(25, 4)],
    [100_000, cameraOf(100, 10)],
    [1_000_000, cameraOf(200, 50)],
  ]);
  const points = await grown([...cameras.keys()], (settings) => sweep(cameras.get(settings)!), 1);
  holdStraight('A sweep of an hour', 'settings', points, STRAIGHT);
});

it('reading, by masks', async () => {
  const dir = await writeStills(join(folder, 'masked'), 300, 0.5);
  const clip = await openClip(dir, { cache: new Cache(join(folder, 'opening')) });
  const { width, height } = defaultCamera.analysis;
  // Each hides another twentieth of the picture's width, in the half that sways.
  const maskAt = (m: number) =>
    Uint8Array.from({ length: width * height }, (_, i) =>
      Number(Math.floor(((i % width) * 40) / width) === m),
    );
  const points = await grown([1, 2, 4, 8, 16], (masks) => {
    const all = Array.from({ length: masks }, (_, m) => maskAt(m));
    return withCache((cache) => evidenceUnder(clip, defaultCamera, all, FLOOR, { cache }));
  });
  holdStraight(
    'Reading 300 stills of 640x480, half of which sways, under several masks',
    'masks',
    points,
    STRAIGHT,
  );
});

it('tuning, by clips', async () => {
  const amounts = [1, 10, 50, 200];
  const cache = new Cache(join(folder, 'tuned'));
  const dirs: string[] = [];
  for (let c = 0; c < amounts.at(-1)!; c++) dirs.push(await writeSmall(join(folder, `small ${c}`), c));
  const camera = cameraSchema.parse({
    ...defaultCamera,
    analysis: { width: 64, height: 48, rate: 5, smooth: 1 },
  });
  const points = await grown(
    amounts,
    (clips) => tune({ clips: dirs.slice(0, clips), camera, recordedOnly: true }, { cache }),
    1,
  );
  holdStraight(
    'Tuning on clips of 20 s at one site, evidence kept, 2,700 settings',
    'clips',
    points,
    STRAIGHT,
  );
});

/** A clip of 100 stills of 64x48, of ten that differ: noise, a visitor, and something that flickers. */
async function writeSmall(dir: string, seed: number): Promise<string> {
  const random = seedrandom(`small ${seed}`);
  mkdirSync(join(dir, 'frames'), { recursive: true });
  for (let k = 0; k < 100; k++) {
    const file = join(dir, 'frames', `${k}.png`);
    const kind = k >= 50 && k < 70 ? k % 5 : 5 + (k % 5);
    const known = join(dir, `${kind}.png`);
    if (k === 0) {
      for (let n = 0; n < 10; n++) {
        const grey = Uint8Array.from({ length: 64 * 48 }, (_, i) => {
          const [x, y] = [i % 64, Math.floor(i / 64)];
          const isThere = n < 5 ? x > 20 + n && x < 40 + n && y > 20 : n === 7 && x < 8 && y < 8;
          return (isThere ? 200 : 100) + Math.floor(6 * random());
        });
        await sharp(grey, { raw: { width: 64, height: 48, channels: 1 } })
          .png()
          .toFile(join(dir, `${n}.png`));
      }
    }
    linkSync(known, file);
  }
  writeFileSync(join(dir, 'clip.json'), JSON.stringify({ version: 1, frames: 'frames/*.png', rate: 5 }));
  const visits = [{ start: 10, end: 14, type: 'animal' }];
  writeFileSync(join(dir, 'labels.json'), JSON.stringify({ version: 1, visits }));
  return dir;
}
