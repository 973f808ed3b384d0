import type { Camera } from '../../../src/camera/description.js';
import { floorFor } from '../../../src/camera/floor.js';
import { photosFor } from '../../../src/camera/timing.js';
import { EvidenceMeter } from '../../../src/engine/evidence.js';
import { Differencer } from '../../../src/engine/pipeline.js';
import { truthOf } from '../../../src/score/truth.js';
import { columnsFrom } from '../../../src/sweep/columns.js';
import type { SweepCounts } from '../../../src/sweep/counts.js';
import { lowestLevel, sweepCamera } from '../../../src/sweep/for-camera.js';
import { outcomesAt } from '../../../src/sweep/outcomes.js';
import { sweepClip } from '../../../src/sweep/sweep.js';
import { yardLabels } from '../yard-clip.js';
import type { Yard } from '../yards/yard.js';
import { grid } from './watching.js';

/** How much changed in each frame: a row for each level from the floor up. */
export interface Evidence {
  floor: number;
  region: number[][];
  changed: number[][];
}

/** Takes one clip's frames, of the camera's analysis size, one after the other. */
export class EvidenceTaker {
  readonly evidence: Evidence;
  readonly #differencer: Differencer;
  readonly #meter: EvidenceMeter;

  constructor({ analysis, reference, ...camera }: Camera) {
    const floor = floorFor({ analysis, reference, ...camera }, lowestLevel(grid));
    this.#differencer = new Differencer({ ...analysis, reference, mask: null });
    this.#meter = new EvidenceMeter(analysis.width, analysis.height, floor);
    const rows = () => Array.from({ length: 256 - floor }, (): number[] => []);
    this.evidence = { floor, region: rows(), changed: rows() };
  }

  take(y: Uint8Array, time: number): void {
    const { floor, region, changed } = this.evidence;
    const row = this.#meter.measure(this.#differencer.next(y, time));
    for (let level = floor; level < 256; level++) {
      region[level - floor]!.push(row.region[level]!);
      changed[level - floor]!.push(row.changed[level]!);
    }
  }
}

/** Triggers of a yard's camera under every setting, judged by the yard's own visits. */
export async function countsOf(yard: Yard, camera: Camera, evidence: Evidence): Promise<SweepCounts> {
  const times = Float64Array.from({ length: yard.frames }, (_, k) => k / yard.rate);
  const truth = truthOf(yardLabels(yard, false), yard.seconds);
  const outcomes = outcomesAt(times, (time) => photosFor(camera, time), truth);
  const columns = columnsFrom((level, kind) => Uint32Array.from(evidence[kind][level - evidence.floor]!));
  const [counts] = await sweepClip({ times, truth, outcomes, ...columns }, grid, sweepCamera(camera));
  return counts;
}

/** Evidence of a clip in which everything always changes: what the most sensitive could fire at most. */
export function alwaysFiring(yard: Yard, { analysis }: Camera): Evidence {
  const row = Array.from({ length: yard.frames }, () => analysis.width * analysis.height);
  const rows = Array.from({ length: 256 }, () => row);
  return { floor: 0, region: rows, changed: rows };
}
