import { Problem } from '../base/problem.js';
import type { Clip } from './open.js';

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
