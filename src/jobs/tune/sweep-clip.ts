import { type Camera, keepsEvidence } from '../../camera/description.js';
import { floorFor } from '../../camera/floor.js';
import { drawMask } from '../../camera/mask.js';
import { photosFor } from '../../camera/timing.js';
import { type LabelledClip, needLabels } from '../../clip/labelled.js';
import type { Clip } from '../../clip/open.js';
import { analysedFrames, evidenceOf, type ReadingOptions } from '../../measure/evidence.js';
import { replayDirectly } from '../../measure/replay.js';
import type { Stretch } from '../../score/stretches.js';
import { type Truth, truthOf } from '../../score/truth.js';
import type { ColumnSource } from '../../sweep/columns.js';
import { SweepCounts } from '../../sweep/counts.js';
import { lowestLevel, sweepCamera } from '../../sweep/for-camera.js';
import type { Grid } from '../../sweep/grid.js';
import { firstAt } from '../../sweep/march.js';
import { outcomesAt } from '../../sweep/outcomes.js';
import { type SweepPart, sweepClip } from '../../sweep/sweep.js';
import { tallyOf } from '../../sweep/tally.js';
import { apart, blockOf, cutBlocks } from '../../tune/blocks.js';
import type { Swept } from '../../tune/tune.js';

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
  const truth = truthOf(clip.labels, clip.seconds);
  const mask = drawMask(clip.labels.mask, camera);
  if (!keepsEvidence(camera)) {
    return { whole: await sweepDirectly(clip, camera, grid, truth, mask, options), blocks: [] };
  }
  const evidence = await evidenceOf(clip, camera, mask, floorFor(camera, lowestLevel(grid)), options);
  return sweepEvidence(partsOf(clip, camera), evidence, camera, grid);
}

/** A labelled clip as what is swept: all of it, and cut into blocks. */
export interface Parts {
  whole: SweepPart;
  blocks: SweepPart[];
}

export function partsOf(clip: LabelledClip, camera: Camera): Parts {
  const truth = truthOf(clip.labels, clip.seconds);
  const { times } = analysedFrames(clip, camera);
  const whole = {
    from: 0,
    times,
    truth,
    outcomes: outcomesAt(times, (time) => photosFor(camera, time), truth),
  };
  return { whole, blocks: blocksOf(clip, camera).map((block) => blockOf(whole, block)) };
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
  const { times } = analysedFrames(clip, camera);
  const outcomes = outcomesAt(times, (time) => photosFor(camera, time), truth);
  const counts = new SweepCounts(grid.size, truth);
  fired.forEach((firedAt, setting) => {
    const tally = tallyOf(
      { truth, outcomes },
      firedAt.map((time) => firstAt(times, time, 0)),
    );
    counts.set(setting, tally, tally.visitBits);
  });
  return counts;
}
