import { Problem } from '../../base/problem.js';
import { type Camera, keepsEvidence } from '../../camera/description.js';
import type { Clip } from '../../clip/open.js';
import { levelOf } from '../../engine/triggers.js';
import { drawMask, evidenceOf, type ReadingOptions } from '../../measure/evidence.js';
import { busyFor, floorFor, photosFor, replayDirectly } from '../../measure/replay.js';
import { judgeAll } from '../../score/replayed.js';
import { type Truth, truthOf } from '../../score/truth.js';
import { dialsOf, Grid, thinned } from '../../sweep/grid.js';
import { outcomesAt } from '../../sweep/outcomes.js';
import { type SweepCamera, SweepCounts, setBit, sweepClip, wordsFor } from '../../sweep/sweep.js';
import { type Apart, blockOf, cutBlocks } from '../../tune/blocks.js';

/** A camera whose reference depends on the triggers is replayed setting by setting: no more than this many. */
const MOST_DIRECT = 48;

/** Parts that one clip is cut into, so that its settings can be tried on time they were not chosen on. */
export const BLOCKS = 8;

/** One clip under every setting: all of it, and block by block. */
export interface Swept {
  whole: SweepCounts;
  blocks: SweepCounts[];
}

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
): Promise<Swept> {
  needLabels(clip);
  const truth = truthOf(clip.labels, clip.seconds);
  const mask = drawMask(clip.labels.mask, camera);
  if (!keepsEvidence(camera)) {
    return { whole: await sweepDirectly(clip, camera, grid, truth, mask, options), blocks: [] };
  }
  const evidence = await evidenceOf(clip, camera, mask, floorFor(camera, lowestLevel(grid)), options);
  const outcomes = outcomesAt(evidence.times, (time) => photosFor(camera, time), truth);
  const swept = { ...evidence, truth, outcomes };
  const parts = cutBlocks(truth, BLOCKS, apart(camera)).map((block) => blockOf(swept, block));
  const [whole, ...blocks] = await sweepClip(swept, grid, sweepCamera(camera), parts);
  return { whole, blocks };
}

/** The lowest level that any setting of a grid asks for. */
export function lowestLevel(grid: Grid): number {
  const dial = grid.dials[grid.dialSetting('threshold')];
  return (dial?.values ?? []).reduce((lowest, threshold) => Math.min(lowest, levelOf(threshold)), 255);
}

/** What the sweep asks of a camera. */
export function sweepCamera(camera: Camera): SweepCamera {
  return {
    area: camera.area,
    framePixels: camera.analysis.width * camera.analysis.height,
    busyOf: (cooldown) => busyFor(camera, cooldown),
    levelOf,
  };
}

/** How far blocks of time must lie apart so that they share neither reference nor photo. */
export function apart(camera: Camera): Apart {
  const { reference, analysis } = camera;
  const memory =
    reference.kind === 'previous'
      ? reference.lag / analysis.rate
      : // Until what was seen then weighs less than half a grey level of 255.
        reference.seconds * Math.log(2 * 255);
  return { memory, photoSpan: photosFor(camera, 0).at(-1) ?? 0 };
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
    const judged = judgeAll(times, (time) => photosFor(camera, time), truth);
    const bits = new Uint32Array(wordsFor(truth));
    for (const [i, visit] of judged.visits.entries()) {
      if (visit.caught) setBit(bits, i);
    }
    if (judged.counts) counts.set(setting, judged.counts, bits);
  });
  return counts;
}

/** A clip that can be tuned on: it has labels. */
export type LabelledClip = Clip & { labels: NonNullable<Clip['labels']> };

/** Refuses a clip without labels: it can be replayed, but not tuned on. */
export function needLabels(clip: Clip): asserts clip is LabelledClip {
  if (clip.labels) return;
  throw new Problem(
    'needs-labels',
    `${clip.dir}: there is no labels.json; tuning expects hand labels of when animals were in view: write one (README, "On your own camera"), or use 'perchmark replay', which needs none`,
  );
}
