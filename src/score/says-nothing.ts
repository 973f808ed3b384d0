import type { Labels, Stretch } from './labels.js';

/**
 * Whether labels say nothing of when anybody was in view: no visit, nothing set aside, and of nothing that it was looked
 * through. Labels that leave `reviewed` out say that all of the clip was looked through, and that is something.
 */
export function saysNothing({ visits, ignored = [], reviewed }: Labels): boolean {
  const lasts = ({ start, end }: Stretch) => end > start;
  return visits.length === 0 && reviewed !== undefined && !reviewed.some(lasts) && !ignored.some(lasts);
}

/** How many animal visits labels tell of; null where they say nothing, or there are none. */
export function visitsSaid(labels: Labels | null): number | null {
  if (!labels || saysNothing(labels)) return null;
  return labels.visits.filter(({ type }) => type === 'animal').length;
}
