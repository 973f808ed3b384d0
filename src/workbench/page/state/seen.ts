import type { Labels, Stretch } from '../../../score/labels.js';
import { isCovered } from '../../../score/quiet-stretches.js';
import { saysNothing } from '../../../score/says-nothing.js';
import { union } from '../../../score/stretches.js';

/**
 * Labels with what was looked through in them. Where they say that all was, nothing is added; nor where nothing is said yet,
 * for whoever only looks has not said that nobody came.
 */
export function withSeen(labels: Labels, seen: readonly Stretch[]): Labels {
  const { reviewed } = labels;
  if (!reviewed || saysNothing(labels)) return labels;
  const before = union(reviewed);
  if (seen.every((stretch) => isCovered(before, stretch))) return labels;
  return { ...labels, reviewed: union([...reviewed, ...seen]) };
}

/** Whether less counts as looked through than before; undefined: all of the clip. */
export function isLess(now: readonly Stretch[] | undefined, before: readonly Stretch[] | undefined): boolean {
  if (now === undefined) return false;
  const left = union(now);
  return before === undefined || !before.every((stretch) => isCovered(left, stretch));
}
