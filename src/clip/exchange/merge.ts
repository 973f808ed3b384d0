import { plural } from '../../base/figures.js';
import type { Labels } from '../../score/labels.js';
import { joined } from './within.js';

/** How much labels say. */
export interface LabelCounts {
  visits: number;
  ignored: number;
  causes: number;
  /** Stretches looked through; null: all of the clip. */
  reviewed: number | null;
  mask: number;
  foliage: number;
}

export function labelCounts({ visits, ignored, causes, reviewed, mask, foliage }: Labels): LabelCounts {
  return {
    visits: visits.length,
    ignored: ignored?.length ?? 0,
    causes: causes?.length ?? 0,
    reviewed: reviewed?.length ?? null,
    mask: mask?.length ?? 0,
    foliage: foliage?.length ?? 0,
  };
}

/** Labels that say nothing but that all was looked through, as of a clip that nobody has begun to label. */
export function areBlank(labels: Labels): boolean {
  const { reviewed, ...counts } = labelCounts(labels);
  return (reviewed ?? 0) === 0 && Object.values(counts).every((n) => n === 0);
}

/** Seconds; formats with whole seconds move ends by less. */
const SAME = 1;

/**
 * Labels with what was read put to them: those that were there stay as they are, and what says the same again, of the same type and
 * name with ends up to a second off, is left out. What either was looked through is, and outlines are those that were there. Where
 * only parts of the clip were looked through, that holds until somebody says otherwise: that all was is also what is read where
 * nobody said anything.
 * @param allReviewed somebody says that all of the clip was looked through
 */
export function merged(old: Labels, read: Labels, allReviewed: boolean): Labels {
  const { mask = read.mask, foliage = read.foliage } = old;
  const ignored = withNew(old.ignored, read.ignored, () => true);
  const causes = withNew(old.causes, read.causes, (a, b) => a.cause === b.cause);
  const reviewed = allReviewed
    ? undefined
    : old.reviewed && joined([...old.reviewed, ...(read.reviewed ?? read.visits)]);
  return {
    version: 1,
    ...(reviewed && { reviewed }),
    visits: withNew(old.visits, read.visits, (a, b) => a.type === b.type && a.name === b.name) ?? [],
    ...(ignored && { ignored }),
    ...(mask && { mask }),
    ...(foliage && { foliage }),
    ...(causes && { causes }),
  };
}

function withNew<S extends { start: number; end: number }>(
  old: S[] | undefined,
  read: S[] | undefined,
  alike: (a: S, b: S) => boolean,
): S[] | undefined {
  if (!old || !read) return old ?? read;
  const isNear = (a: S, b: S) => Math.abs(a.start - b.start) <= SAME && Math.abs(a.end - b.end) <= SAME;
  return [...old, ...read.filter((one) => !old.some((other) => isNear(one, other) && alike(one, other)))];
}

/** How many visits there are more than were there, that overlap one of the same type that was: often the same visit under another name. */
export function overlapping(old: Labels, now: Labels): number {
  // What was there stands first.
  return now.visits
    .slice(old.visits.length)
    .filter((one) =>
      old.visits.some((other) => other.type === one.type && other.start < one.end && one.start < other.end),
    ).length;
}

/** How much is labelled: 5 visits, 4 causes. */
export function countsText({ visits, ignored, causes }: LabelCounts): string {
  return [
    plural(visits, 'visit'),
    ...(ignored > 0 ? [plural(ignored, 'ignored stretch', 'ignored stretches')] : []),
    ...(causes > 0 ? [plural(causes, 'cause')] : []),
  ].join(', ');
}
