import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { defaultCamera } from '../../src/camera/default.js';
import { photosFor } from '../../src/camera/timing.js';
import { openClip } from '../../src/clip/open.js';
import { type BoxRows, boxRowsOf, type WithinBoxes, withinBoxes } from '../../src/measure/boxes.js';
import { evidenceOf } from '../../src/measure/evidence.js';
import { truthOf } from '../../src/score/truth.js';
import { Cache } from '../../src/store/cache.js';
import { ByteWriter, encodeCounts } from '../../src/store/evidence-codec.js';
import { EvidenceStore } from '../../src/store/evidence-store.js';
import { sweepCamera } from '../../src/sweep/for-camera.js';
import { Grid } from '../../src/sweep/grid.js';
import { outcomesAt } from '../../src/sweep/outcomes.js';
import { sweepClip } from '../../src/sweep/sweep.js';
import { FLOOR, fineCamera, madeEvidence, madeVisits, RATE } from './made-evidence.js';
import { measure, print, printRatio } from './measure.js';
import { scratch, writeStills } from './recordings.js';

const HOUR = 3600 * RATE;
/** Stills read to know the rate of reading. */
const READ = 200;
const { folder, remove } = scratch();
afterAll(remove);

it('a sweep of 50,000 settings over an hour against reading the hour once', async () => {
  const cache = new Cache(join(folder, 'cache'));
  const clip = await openClip(await writeStills(join(folder, 'calm'), READ, 0), { cache });
  const store = new EvidenceStore(cache, 'hour', HOUR, FLOOR);
  const visits = madeVisits(HOUR, 'hour');

  const grid = new Grid(fineCamera);
  expect(grid.size).toBe(50_000);
  const times = Float64Array.from({ length: HOUR }, (_, k) => k / RATE);
  const truth = truthOf(
    { version: 1, visits: visits.map((visit) => ({ ...visit, type: 'animal', box: [0.3, 0.3, 0.3, 0.3] })) },
    HOUR / RATE,
  );
  const judged = () => outcomesAt(times, (time) => photosFor(fineCamera, time), truth);
  const rows = boxRowsOf(judged(), truth, fineCamera.area) as BoxRows;
  const boxes = new ByteWriter();
  let [frame, next] = [0, 0];
  for (const row of madeEvidence(HOUR, visits, 'hour')) {
    await store.append(row);
    // As much within the box as on the whole frame, for each visit that a photo would show.
    for (; rows.frames[next] === frame; next++) encodeCounts(boxes, row.region, FLOOR);
    frame++;
  }
  const sweep = (within: WithinBoxes | null) =>
    sweepClip(
      {
        times,
        truth,
        outcomes: judged(),
        within,
        columns: (levels, kind) => store.columns(levels, kind),
        bothColumns: (levels) => store.bothColumns(levels),
      },
      grid,
      sweepCamera(fineCamera),
    );

  const luck = () => sweep(withinBoxes(rows, async () => boxes.bytes()));
  const [counts] = await luck();
  const triggers = [counts.trueTriggers, counts.falseTriggers, counts.ignoredTriggers]
    .flatMap((of) => [...of])
    .reduce((sum, of) => sum + of, 0);
  let readings = 0;
  const took = await measure(
    {
      'a sweep of 50,000 settings over kept evidence': luck,
      'the same without telling visits caught by luck': () => sweep(null),
      [`reading ${READ} stills of a calm clip`]: () =>
        evidenceOf(clip, defaultCamera, null, FLOOR, { cache: new Cache(join(folder, `${readings++}`)) }),
    },
    { warmUp: 1, rounds: 7 },
  );
  print(`An hour of ${HOUR} frames with ${visits.length} visits; ${triggers} triggers in all settings`, took);
  const [swept, plain, read] = Object.values(took).map(({ median }) => median) as [number, number, number];
  process.stdout.write(`  telling luck: ${(swept / plain).toFixed(3)} of the sweep without\n`);
  process.stdout.write(`  ${Math.round((1000 * grid.size) / swept)} settings per second\n`);
  const part = (100 * swept) / ((read * HOUR) / READ);
  printRatio('sweep / reading the hour (a calm clip), in %', part, 'at most 2');
  expect(part).toBeLessThanOrEqual(2);
});
