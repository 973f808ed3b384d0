import type { Camera } from '../../../camera/description.js';
import { photosFor } from '../../../camera/timing.js';
import type { Labels } from '../../../score/labels.js';
import { type Score, scoreOf } from '../../../score/score.js';
import { truthOf } from '../../../score/truth.js';
import { columnsFrom } from '../../../sweep/columns.js';
import { gridFor, sweepCamera } from '../../../sweep/for-camera.js';
import { outcomesAt } from '../../../sweep/outcomes.js';
import { sweepClip } from '../../../sweep/sweep.js';
import { front } from '../../../tune/front.js';
import { poolOf } from '../../../tune/pool.js';
import type { EvidenceColumns } from '../../protocol.js';
import type { WithinColumns } from './within.js';

/** A group of settings on this clip that no other beats. */
export interface FrontPoint {
  controls: Record<string, number>;
  score: Score;
}

/**
 * Replays every setting of the camera's dials on evidence, and gives those that no other beats, from the most visits on: the
 * same sweep and the same front as `perchmark tune`.
 * @param held how much changed within the boxes of these labels; null: it is not told who was caught by luck
 * @throws Problem where the dials leave open what a setting needs, or give too many settings
 */
export async function frontOf(
  evidence: EvidenceColumns,
  camera: Camera,
  labels: Labels,
  seconds: number,
  held: WithinColumns | null = null,
): Promise<{ searched: number; points: FrontPoint[] }> {
  const grid = gridFor(camera);
  const truth = truthOf(labels, seconds);
  const { times } = evidence;
  const outcomes = outcomesAt(times, (time) => photosFor(camera, time), truth);
  const source = columnsFrom((level, kind) => evidence[kind].get(level)!);
  const within = held && { columns: async () => held };
  const [counts] = await sweepClip({ times, truth, outcomes, ...source, within }, grid, sweepCamera(camera));
  const points = front(poolOf([counts])).map((setting) => ({
    controls: grid.controlsAt(setting),
    score: scoreOf(counts.at(setting)),
  }));
  return { searched: grid.size, points };
}
