import type { Truth } from '../score/truth.js';
import type { BoxSource, ColumnSource } from './columns.js';
import { OutcomeCounter, type SweepCounts } from './counts.js';
import type { Grid } from './grid.js';
import type { SweepCamera } from './groups.js';
import type { Outcomes } from './outcomes.js';
import { walkSettings } from './walk.js';

/** A stretch of a clip, or all of it, to be replayed from an idle camera and counted by itself. */
export interface SweepPart {
  /** Its first analysed frame. */
  from: number;
  /** Times of its frames, seconds from the clip's start. */
  times: Float64Array;
  truth: Truth;
  outcomes: Outcomes;
}

/** What the sweep needs of one clip. */
export interface SweepClip extends Omit<SweepPart, 'from'>, ColumnSource {
  /** Left out or null: it is not told which visits were caught by luck. */
  within?: BoxSource | null;
}

/**
 * What the triggers of one clip turn out to be under every setting of a grid, and those of some parts of it, each
 * replayed by itself; the clip's own counts come first.
 */
export async function sweepClip(
  clip: SweepClip,
  grid: Grid,
  camera: SweepCamera,
  parts: readonly SweepPart[] = [],
): Promise<[whole: SweepCounts, ...parts: SweepCounts[]]> {
  const tellsLuck = clip.within !== undefined && clip.within !== null;
  const counted = (part: SweepPart) => ({ ...part, visitor: new OutcomeCounter(grid.size, part, tellsLuck) });
  const whole = counted({ ...clip, from: 0 });
  const rest = parts.map(counted);
  await walkSettings(clip, grid, camera, [whole, ...rest]);
  return [whole.visitor.counts, ...rest.map(({ visitor }) => visitor.counts)];
}
