import { clock, plural } from '../base/figures.js';
import type { Labels } from '../score/labels.js';
import type { Stretch } from '../score/stretches.js';
import { truthOf } from '../score/truth.js';

/** An interval so many times the usual one, and at least so many seconds long, is a gap: our judgement of where no camera looked. */
const TIMES_THE_USUAL = 10;
const SHORTEST = 1;
/** Gaps that come to less than this share of a clip change none of its rates by as much as their last figure. */
const LEAST_SHARE = 0.01;
/** Intervals that the usual one is the median of, at most; spread over the clip. */
const SAMPLE = 9999;

/**
 * Where a clip was without frames for much longer than usual, in a line; null where that comes to little. Such time counts
 * as watched like any other, so it makes rates an hour look lower than they were: it is for the owner to set it aside.
 * @param times seconds, one for each frame, rising
 * @param seconds the clip's length
 * @param labels gaps in ignored or unreviewed time do not count as watched, and are not told of
 */
export function gapWarning(times: Float64Array, seconds: number, labels: Labels | null): string | null {
  const gaps = gapsOf(times);
  const without = watchedOf(gaps, seconds, labels);
  if (without < LEAST_SHARE * seconds) return null;
  const longest = gaps.reduce((most, gap) => (gap.end - gap.start > most.end - most.start ? gap : most));
  return `it was without frames for ${clock(without)} of its ${clock(seconds)} (${plural(gaps.length, 'gap')}, the longest from ${clock(longest.start)} to ${clock(longest.end)}), which count as watched all the same and make rates an hour too low; set them aside in labels.json ("ignored"), or make a clip of each stretch`;
}

/**
 * Frames a second where there are any: the mean rate, gaps left out, for the camera that a clip is replayed as would have gone on
 * looking as often.
 * @param times seconds, one for each frame, rising; two or more
 */
export function rateOf(times: Float64Array): number {
  const gaps = gapsIn(times, usualInterval(times));
  const without = gaps.reduce((sum, { start, end }) => sum + end - start, 0);
  return (times.length - 1 - gaps.length) / (times[times.length - 1]! - times[0]! - without);
}

/** Where a clip is without frames for much longer than usual: a frame stands for the usual interval after it. */
export function gapsOf(times: Float64Array): Stretch[] {
  const usual = usualInterval(times);
  return gapsIn(times, usual).map(({ start, end }) => ({ start: start + usual, end }));
}

/** From the last frame before each gap to the first after it. */
function gapsIn(times: Float64Array, usual: number): Stretch[] {
  const gaps: Stretch[] = [];
  for (let i = 1; i < times.length; i++) {
    const interval = times[i]! - times[i - 1]!;
    if (interval < SHORTEST || interval <= TIMES_THE_USUAL * usual) continue;
    gaps.push({ start: times[i - 1]!, end: times[i]! });
  }
  return gaps;
}

/** The median of the intervals, or of a sample of them. */
function usualInterval(times: Float64Array): number {
  const count = Math.min(SAMPLE, times.length - 1);
  const step = (times.length - 1) / count;
  const intervals = Float64Array.from({ length: count }, (_, k) => {
    const i = Math.floor(k * step);
    return times[i + 1]! - times[i]!;
  });
  return intervals.sort()[count >> 1] ?? 0;
}

/** Seconds of the gaps that count as watched, or would were there labels. */
function watchedOf(gaps: readonly Stretch[], seconds: number, labels: Labels | null): number {
  if (gaps.length === 0) return 0;
  const given: Labels = labels ?? { version: 1, visits: [] };
  const all = truthOf(given, seconds).watchedSeconds;
  const rest = truthOf({ ...given, ignored: [...(given.ignored ?? []), ...gaps] }, seconds).watchedSeconds;
  return all - rest;
}
