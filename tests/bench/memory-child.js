// Runs the built package in a process of its own, whose peak memory is then its own. Prints the peaks in bytes as JSON.
import process from 'node:process';
import { defaultCamera } from '../../dist/camera/default.js';
import { floorFor } from '../../dist/camera/floor.js';
import { busyFor, photosFor } from '../../dist/camera/timing.js';
import { openClip } from '../../dist/clip/open.js';
import { levelOf } from '../../dist/engine/triggers.js';
import { evidenceOf } from '../../dist/measure/evidence.js';
import { truthOf } from '../../dist/score/truth.js';
import { Cache } from '../../dist/store/cache.js';
import { EvidenceStore } from '../../dist/store/evidence-store.js';
import { Grid } from '../../dist/sweep/grid.js';
import { outcomesAt } from '../../dist/sweep/outcomes.js';
import { sweepClip } from '../../dist/sweep/sweep.js';

const peak = () => process.resourceUsage().maxRSS * 1024;
const [job, cacheFolder, ...rest] = process.argv.slice(2);
const cache = new Cache(cacheFolder);
const jobs = { read, sweep };
process.stdout.write(JSON.stringify(await jobs[job](...rest)));

/** Stills to evidence kept; peaks after half of the frames and after all. */
async function read(folder) {
  const clip = await openClip(folder, { cache });
  let half = 0;
  await evidenceOf(clip, defaultCamera, null, floorFor(defaultCamera, 255), {
    cache,
    onProgress: (done, total) => {
      if (done === total >> 1) half = peak();
    },
  });
  return { half, whole: peak() };
}

/** Every setting of a camera over evidence that was kept before. */
async function sweep(key, about) {
  const { frames, floor, rate, visits, camera } = JSON.parse(about);
  const store = new EvidenceStore(cache, key, frames, floor);
  const times = Float64Array.from({ length: frames }, (_, k) => k / rate);
  const labels = { version: 1, visits: visits.map((visit) => ({ ...visit, type: 'animal' })) };
  const truth = truthOf(labels, frames / rate);
  await sweepClip(
    {
      times,
      truth,
      outcomes: outcomesAt(times, (time) => photosFor(camera, time), truth),
      columns: (levels, kind) => store.columns(levels, kind),
      bothColumns: (levels) => store.bothColumns(levels),
    },
    new Grid(camera),
    {
      area: camera.area,
      framePixels: camera.analysis.width * camera.analysis.height,
      busyOf: (cooldown) => busyFor(camera, cooldown),
      levelOf,
    },
  );
  return { whole: peak() };
}
