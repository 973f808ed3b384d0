import { TIME_TOLERANCE } from '../engine/triggers.js';

/** A stretch of time in seconds that holds both its ends. */
export interface Stretch {
  start: number;
  end: number;
}

/** The same time as stretches that neither touch nor overlap, in order. */
export function union(stretches: readonly Stretch[]): Stretch[] {
  const sorted = [...stretches].sort((a, b) => a.start - b.start);
  const out: Stretch[] = [];
  for (const { start, end } of sorted) {
    const last = out.at(-1);
    if (last && start <= last.end) last.end = Math.max(last.end, end);
    else out.push({ start, end });
  }
  return out;
}

/** What lies outside every stretch between `start` and `end`. */
export function gaps(stretches: readonly Stretch[], start: number, end: number): Stretch[] {
  return gapsBetween(union(stretches), start, end);
}

/** As `gaps`, of stretches that are apart and in order already. */
export function gapsBetween(apart: readonly Stretch[], start: number, end: number): Stretch[] {
  // Those that end before it begins make no difference.
  let low = 0;
  let high = apart.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (apart[middle]!.end < start) low = middle + 1;
    else high = middle;
  }
  const out: Stretch[] = [];
  let from = start;
  for (let i = low; i < apart.length; i++) {
    const s = apart[i]!;
    if (s.start > from) out.push({ start: from, end: Math.min(s.start, end) });
    from = Math.max(from, s.end);
    if (from >= end) return out;
  }
  out.push({ start: from, end });
  return out;
}

/** Whether a time falls in a stretch, ends included. */
export function holds(stretch: Stretch, time: number): boolean {
  return time >= stretch.start - TIME_TOLERANCE && time <= stretch.end + TIME_TOLERANCE;
}

/** Whether any of some stretches, apart and in order, shares a moment with another stretch. */
export function touchesAny(apart: readonly Stretch[], { start, end }: Stretch): boolean {
  let low = 0;
  let high = apart.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (apart[middle]!.start <= end) low = middle + 1;
    else high = middle;
  }
  const last = apart[low - 1];
  return last !== undefined && last.end >= start;
}
