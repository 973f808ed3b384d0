/** How near a predicted time must lie to a fired one, in seconds. */
export interface Tolerance {
  /** Beyond this the two do not match. */
  most: number;
  /** Up to this they are as good as the same: what rounding and the camera's frames leave open. */
  free: number;
  /**
   * Of times that are rounded: what is left of them by the right offset lies within less than this, wherever they began in what they are
   * rounded to. Null: nothing says so, and what is nearer is better.
   */
  span: number | null;
}

/** Fired times held against predicted ones, one to one. */
export interface Agreement {
  /** Of precision and recall of the predicted times (harmonic mean), 0 to 1. */
  f1: number;
  matched: number;
  /** Predicted, but not fired. */
  extra: number;
  /** Fired, but not predicted. */
  missing: number;
}

/** What a match at the edge of the tolerance is worth, of one in time. */
const AT_THE_EDGE = 0.5;

/**
 * The largest one-to-one matching of two rising series: of points on a line under one tolerance, taking the earliest pair
 * that fits is largest.
 * @param count how many of `predicted` count
 * @param onPair told of each pair, by their places
 */
function matchUp(
  fired: Float64Array,
  predicted: ArrayLike<number>,
  count: number,
  most: number,
  onPair: (fired: number, predicted: number) => void,
): void {
  let i = 0;
  let j = 0;
  while (i < fired.length && j < count) {
    const ahead = predicted[j]! - fired[i]!;
    if (ahead < -most) j++;
    else if (ahead > most) i++;
    else onPair(i++, j++);
  }
}

export function agreementOf(
  fired: Float64Array,
  predicted: ArrayLike<number>,
  { most }: Pick<Tolerance, 'most'>,
): Agreement {
  let matched = 0;
  matchUp(fired, predicted, predicted.length, most, () => {
    matched++;
  });
  const all = fired.length + predicted.length;
  return {
    f1: all === 0 ? 0 : (2 * matched) / all,
    matched,
    extra: predicted.length - matched,
    missing: fired.length - matched,
  };
}

/** As F1, but that a match counts the less the farther apart the two are; to tell descriptions apart that all match. */
export function closeness(
  fired: Float64Array,
  predicted: ArrayLike<number>,
  count: number,
  tolerance: Tolerance,
): number {
  const all = fired.length + count;
  if (all === 0) return 0;
  let worth = 0;
  matchUp(fired, predicted, count, tolerance.most, (i, j) => {
    worth += worthOf(Math.abs(predicted[j]! - fired[i]!), tolerance);
  });
  return (2 * worth) / all;
}

/** Seconds: what a span is compared with is a sum of times that were added up. */
export const SAME = 1e-6;

/**
 * How near predictions come as exactly as the times were told. Of rounded ones by whatever offset suits these predictions best: of pairs that
 * match, those count whole whose lateness lies within one span, as it does of the right ones. Times in whole seconds are floor(time +
 * offset), so that what is left of them by the right offset is less than a second apart: predictions that leave more open cannot all be
 * right, however near they lie. Others as in closeness.
 */
export function exactCloseness(
  fired: Float64Array,
  predicted: ArrayLike<number>,
  count: number,
  tolerance: Tolerance,
): number {
  const { most, span } = tolerance;
  if (span === null) return closeness(fired, predicted, count, tolerance);
  const all = fired.length + count;
  if (all === 0) return 0;
  const late = new Float64Array(fired.length);
  let pairs = 0;
  matchUp(fired, predicted, count, most, (i, j) => {
    late[pairs++] = fired[i]! - predicted[j]!;
  });
  const rising = late.subarray(0, pairs).sort();
  let within = 0;
  for (let first = 0, last = 0; last < pairs; last++) {
    while (rising[last]! - rising[first]! > span - SAME) first++;
    within = Math.max(within, last - first + 1);
  }
  return (2 * (within + AT_THE_EDGE * (pairs - within))) / all;
}

/** What a match is worth, of 1, whose two times lie so many seconds apart. */
export function worthOf(apart: number, { most, free }: Tolerance): number {
  if (apart <= free) return 1;
  return 1 - ((1 - AT_THE_EDGE) * (apart - free)) / (most - free);
}

/** A fired time, by its place, and the time at which it was predicted. */
export interface Pair {
  place: number;
  at: number;
  late: number;
}

/** Of the pairs that match, the places of the fired times, when they were predicted and how much later they are. */
export function lateness(
  fired: Float64Array,
  predicted: ArrayLike<number>,
  { most }: Pick<Tolerance, 'most'>,
): Pair[] {
  const pairs: Pair[] = [];
  matchUp(fired, predicted, predicted.length, most, (i, j) => {
    pairs.push({ place: i, at: predicted[j]!, late: fired[i]! - predicted[j]! });
  });
  return pairs;
}

/** One fired or predicted time, seconds on the clip. */
export interface Moment {
  time: number;
  /** Fired and predicted; fired only; predicted only. */
  is: 'matched' | 'missing' | 'extra';
}

/** Every fired and predicted time, a matched pair once, at its fired time; rising. */
export function momentsOf(
  fired: Float64Array,
  predicted: readonly number[],
  { most }: Pick<Tolerance, 'most'>,
): Moment[] {
  const [ofFired, ofPredicted] = [new Set<number>(), new Set<number>()];
  matchUp(fired, predicted, predicted.length, most, (i, j) => {
    ofFired.add(i);
    ofPredicted.add(j);
  });
  const moments = [
    ...Array.from(fired, (time, i): Moment => ({ time, is: ofFired.has(i) ? 'matched' : 'missing' })),
    ...predicted.flatMap((time, j): Moment[] => (ofPredicted.has(j) ? [] : [{ time, is: 'extra' }])),
  ];
  return moments.sort((a, b) => a.time - b.time);
}

/** F1 of the moments from a time on; of pairs across it, those that were fired after it. */
export function f1From(moments: readonly Moment[], from: number): number {
  const after = moments.filter(({ time }) => time >= from);
  const matched = after.filter(({ is }) => is === 'matched').length;
  return after.length === 0 ? 0 : (2 * matched) / (after.length + matched);
}
