import { TIME_TOLERANCE } from '../../../../engine/triggers.js';
import type { causeNames, Labels } from '../../../../score/labels.js';

type CauseName = (typeof causeNames)[number];

/** Seconds before and after a trigger that what is said of it holds for: other dials fire a frame or two off. */
const AROUND = 0.5;

/**
 * Says what fired at a time, in place of what was said of that very time before.
 * @param cause null: nothing is said any more
 * @param seconds the clip's length
 */
export function withCause(labels: Labels, time: number, cause: CauseName | null, seconds: number): Labels {
  const start = Math.max(0, time - AROUND);
  const end = Math.min(seconds, time + AROUND);
  const same = (a: number, b: number) => Math.abs(a - b) <= TIME_TOLERANCE;
  const { causes = [], ...rest } = labels;
  const others = causes.filter((one) => !(same(one.start, start) && same(one.end, end)));
  const next = cause === null ? others : [...others, { start, end, cause }];
  next.sort((a, b) => a.start - b.start || a.end - b.end);
  return next.length > 0 ? { ...rest, causes: next } : rest;
}
