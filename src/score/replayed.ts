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
  visits: (Stretch & {
    name?: string;
    caught: boolean;
    /** Only of visits caught, of which it can be told: whether each time something outside the visit's box fired. */
    byLuck?: boolean;
  })[];
  /** Null without labels. */
  counts: Counts | null;
}

/** Whether what was within the box of a visit would by itself have fired a trigger, both by their places. */
export type OwnDoing = (trigger: number, visit: number) => boolean;

/**
 * Judges every trigger of a clip; photo times are as `photosOf` gives them for a trigger's time.
 * @param own asked of visits with a box; left out: it is not told who was caught by luck
 */
export function judgeAll(
  times: readonly number[],
  photosOf: (time: number) => number[],
  truth: Truth | null,
  own?: OwnDoing,
): Judged {
  if (!truth) {
    const triggers = times.map((time) => ({ time, photos: photosOf(time), verdict: null, visit: null }));
    return { triggers, visits: [], counts: null };
  }
  const caught = new Set<number>();
  const byThemselves = new Set<number>();
  const tally = { true: 0, false: 0, ignored: 0 };
  const bouts = { true: new BoutCounter(), false: new BoutCounter(), ignored: new BoutCounter() };
  const triggers = times.map((time, trigger) => {
    const photos = photosOf(time);
    const { verdict, visits } = judge(truth, time, photos);
    tally[verdict]++;
    bouts[verdict].add(time);
    for (const visit of visits) {
      caught.add(visit);
      if (own && truth.visits[visit]?.box && own(trigger, visit)) byThemselves.add(visit);
    }
    return { time, photos, verdict, visit: visits[0] ?? null };
  });
  const visits = truth.visits.map(({ box, ...visit }, i) => ({
    ...visit,
    caught: caught.has(i),
    ...(own && box && caught.has(i) && { byLuck: !byThemselves.has(i) }),
  }));
  return {
    triggers,
    visits,
    counts: {
      visits: truth.visits.length,
      caught: caught.size,
      boxed: own ? truth.visits.filter(({ box }) => box).length : 0,
      byLuck: visits.filter(({ byLuck }) => byLuck === true).length,
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
