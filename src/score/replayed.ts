import { BoutCounter } from './bouts.js';
import type { Counts } from './score.js';
import type { Stretch } from './stretches.js';
import type { Truth } from './truth.js';
import { judge } from './verdict.js';

/** A trigger with its verdict; null where the clip has no labels. */
export interface JudgedTrigger {
  time: number;
  photos: number[];
  verdict: 'true' | 'false' | 'ignored' | null;
  /** The visit it belongs to, by its place in the list of visits; null unless true. */
  visit: number | null;
}

/** Triggers of one clip held against its labels. */
export interface Judged {
  triggers: JudgedTrigger[];
  visits: (Stretch & { name?: string; caught: boolean })[];
  /** Null without labels. */
  counts: Counts | null;
}

/** Judges every trigger of a clip; photo times are as `photosOf` gives them for a trigger's time. */
export function judgeAll(
  times: readonly number[],
  photosOf: (time: number) => number[],
  truth: Truth | null,
): Judged {
  if (!truth) {
    const triggers = times.map((time) => ({ time, photos: photosOf(time), verdict: null, visit: null }));
    return { triggers, visits: [], counts: null };
  }
  const caught = new Set<number>();
  const tally = { true: 0, false: 0, ignored: 0 };
  const bouts = { true: new BoutCounter(), false: new BoutCounter(), ignored: new BoutCounter() };
  const triggers = times.map((time) => {
    const photos = photosOf(time);
    const { verdict, visits } = judge(truth, time, photos);
    tally[verdict]++;
    bouts[verdict].add(time);
    for (const visit of visits) caught.add(visit);
    return { time, photos, verdict, visit: visits[0] ?? null };
  });
  return {
    triggers,
    visits: truth.visits.map((visit, i) => ({ ...visit, caught: caught.has(i) })),
    counts: {
      visits: truth.visits.length,
      caught: caught.size,
      trueTriggers: tally.true,
      falseTriggers: tally.false,
      ignoredTriggers: tally.ignored,
      watchedSeconds: truth.watchedSeconds,
      trueBouts: bouts.true.bouts,
      trueSquares: bouts.true.squares,
      falseBouts: bouts.false.bouts,
      falseSquares: bouts.false.squares,
    },
  };
}
