import type { Camera } from '../../camera/description.js';
import { floorFor } from '../../camera/floor.js';
import { keepsEvidence } from '../../camera/keeps-evidence.js';
import { drawMask } from '../../camera/mask.js';
import { photosFor } from '../../camera/timing.js';
import { type LabelledClip, needLabels } from '../../clip/labelled.js';
import type { Clip } from '../../clip/open.js';
import { analysedFrames } from '../../measure/analysed.js';
import { evidenceOf, type Looking, type ReadingOptions } from '../../measure/evidence.js';
import { replayDirectly } from '../../measure/replay.js';
import { samplePassing } from '../../measure/weather/sample.js';
import type { Stretch } from '../../score/stretches.js';
import { truthOf } from '../../score/truth.js';
import type { ColumnSource } from '../../sweep/columns.js';
import { SweepCounts } from '../../sweep/counts.js';
import { lowestLevel, sweepCamera } from '../../sweep/for-camera.js';
import type { Grid } from '../../sweep/grid.js';
import { firstAt } from '../../sweep/march.js';
import { outcomesAt } from '../../sweep/outcomes.js';
import { type SweepPart, sweepClip } from '../../sweep/sweep.js';
import { tallyOf } from '../../sweep/tally.js';
import { apart, blockOf, cutBlocks } from '../../tune/blocks.js';
import type { Swept } from '../../tune/site-result.js';

/** Parts that one clip is cut into, so that its settings can be tried on time they were not chosen on. */
export const BLOCKS = 8;

/** Reads one labelled clip and replays it under every setting of the grid. */
export async function sweepOf(
  clip: Clip,
  camera: Camera,
  grid: Grid,
  options: ReadingOptions,
): Promise<Swept> {
  needLabels(clip);
  if (!keepsEvidence(camera)) {
    const { whole } = partsOf(clip, camera, []);
    return (await sweepDirectly(clip, { whole, blocks: [] }, camera, grid, options)).swept;
  }
  const { mask, floor } = lookingFor(clip, camera, grid);
  const evidence = await evidenceOf(clip, camera, mask, floor, options, samplingOf(clip, camera));
  return sweepEvidence(partsOf(clip, camera), evidence, camera, grid);
}

/** How evidence of a labelled clip is read for the sweep of a grid: under the labels' mask, from the lowest level asked for. */
export function lookingFor({ labels }: LabelledClip, camera: Camera, grid: Grid): Looking {
  return { camera, mask: drawMask(labels.mask, camera), floor: floorFor(camera, lowestLevel(grid)) };
}

/** Takes a sample of what a camera is given: the wind of the clip may be asked for next, and its noise and foliage for weather. */
export function samplingOf(clip: LabelledClip, camera: Camera): Pick<Looking, 'watch'> {
  const { indices } = analysedFrames(clip, camera);
  const sample = samplePassing(clip, camera.analysis);
  return sample ? { watch: ({ frame, given }) => sample(indices[frame]!, given) } : {};
}

/** A labelled clip as what is swept: all of it, and cut into blocks. */
export interface Parts {
  whole: SweepPart;
  blocks: SweepPart[];
}

export function partsOf(
  clip: LabelledClip,
  camera: Camera,
  blocks: readonly Stretch[] = blocksOf(clip, camera),
): Parts {
  const truth = truthOf(clip.labels, clip.seconds);
  const { times } = analysedFrames(clip, camera);
  const whole = {
    from: 0,
    times,
    truth,
    outcomes: outcomesAt(times, (time) => photosFor(camera, time), truth),
  };
  return { whole, blocks: blocks.map((block) => blockOf(whole, block)) };
}

/** The blocks that a labelled clip is cut into. */
export function blocksOf({ labels, seconds }: LabelledClip, camera: Camera): Stretch[] {
  return cutBlocks(truthOf(labels, seconds), BLOCKS, apart(camera));
}

/** Replays evidence of a clip under every setting of the grid. */
export async function sweepEvidence(
  { whole, blocks }: Parts,
  evidence: ColumnSource,
  camera: Camera,
  grid: Grid,
): Promise<Swept> {
  const [first, ...rest] = await sweepClip({ ...whole, ...evidence }, grid, sweepCamera(camera), blocks);
  return { whole: first, blocks: rest };
}

/**
 * The same frame by frame, for a camera whose reference depends on its triggers; blocks are not replayed by themselves: what fires in
 * them counts.
 * @returns also when each setting fired, seconds
 */
export async function sweepDirectly(
  clip: LabelledClip,
  { whole, blocks }: Parts,
  camera: Camera,
  grid: Grid,
  options: ReadingOptions,
): Promise<{ swept: Swept; fired: number[][] }> {
  const all = Array.from({ length: grid.size }, (_, i) => grid.settingsAt(i));
  const fired = await replayDirectly(clip, camera, all, drawMask(clip.labels.mask, camera), options);
  const frames = fired.map((times) => times.map((time) => firstAt(whole.times, time, 0)));
  return {
    swept: {
      whole: countsOf(whole, frames),
      blocks: blocks.map((block) => countsOf(block, frames)),
    },
    fired,
  };
}

/** @param fired for each setting the frames of the clip at which it fired */
function countsOf({ from, times, truth, outcomes }: SweepPart, fired: readonly number[][]): SweepCounts {
  const counts = new SweepCounts(fired.length, truth);
  fired.forEach((frames, setting) => {
    const inside = frames.map((frame) => frame - from).filter((k) => k >= 0 && k < times.length);
    const tally = tallyOf({ truth, outcomes }, inside);
    counts.set(setting, tally, tally.visitBits);
  });
  return counts;
}
