import { type Camera, keepsEvidence } from '../camera/description.js';
import type { Clip } from '../clip/open.js';
import { levelOf } from '../engine/triggers.js';
import { Problem } from '../problem.js';
import { drawMask, evidenceOf, type ReadingOptions } from '../replay/evidence.js';
import { busyFor, floorFor, photosFor, replayDirectly } from '../replay/replay.js';
import { judgeAll } from '../score/replayed.js';
import { type Truth, truthOf } from '../score/truth.js';
import { dialsOf, Grid, thinned } from './grid.js';
import { outcomesAt } from './outcomes.js';
import { SweepCounts, sweepClip } from './sweep.js';

/** A camera whose reference depends on the triggers is replayed setting by setting: no more than this many. */
const MOST_DIRECT = 48;

/** The settings to try: all that the dials give, or a thinned choice of them where each must be replayed by itself. */
export function gridFor(camera: Camera): Grid {
  const dials = dialsOf(camera);
  return new Grid(camera, keepsEvidence(camera) ? dials : thinned(dials, MOST_DIRECT));
}

/** Reads one labelled clip and replays it under every setting of the grid. */
export async function sweepOf(
  clip: Clip,
  camera: Camera,
  grid: Grid,
  options: ReadingOptions,
): Promise<SweepCounts> {
  const truth = truthToTune(clip);
  const mask = drawMask(clip.labels?.mask, camera);
  if (!keepsEvidence(camera)) return sweepDirectly(clip, camera, grid, truth, mask, options);
  const lowest = Array.from({ length: grid.size }, (_, i) => levelOf(grid.settingsAt(i).threshold)).reduce(
    (a, b) => Math.min(a, b),
  );
  const evidence = await evidenceOf(clip, camera, mask, floorFor(camera, lowest), options);
  const outcomes = outcomesAt(evidence.times, (time) => photosFor(camera, time), truth);
  return sweepClip({ ...evidence, truth, outcomes }, grid, {
    area: camera.area,
    framePixels: camera.analysis.width * camera.analysis.height,
    busyOf: (cooldown) => busyFor(camera, cooldown),
    levelOf,
  });
}

async function sweepDirectly(
  clip: Clip,
  camera: Camera,
  grid: Grid,
  truth: Truth,
  mask: Uint8Array | null,
  options: ReadingOptions,
): Promise<SweepCounts> {
  const all = Array.from({ length: grid.size }, (_, i) => grid.settingsAt(i));
  const fired = await replayDirectly(clip, camera, all, mask, options);
  const counts = new SweepCounts(grid.size, truth);
  fired.forEach((times, setting) => {
    const judged = judgeAll(times, (time) => photosFor(camera, time), truth).counts;
    if (judged) counts.set(setting, judged);
  });
  return counts;
}

/** The labels of a clip as truth; a clip without any cannot be tuned on. */
export function truthToTune(clip: Clip): Truth {
  if (clip.labels) return truthOf(clip.labels, clip.seconds);
  throw new Problem(
    'needs-labels',
    `${clip.dir}: there is no labels.json; tuning expects hand labels of when animals were in view: write one (README, "Labels"), or use 'perchmark replay', which needs none`,
  );
}
