import type { Settings } from '../camera/settings.js';
import type { Polygon } from '../engine/mask.js';
import { boutBalances } from '../score/bouts.js';
import { type Difference, rateDifference } from '../score/paired-difference.js';
import type { Judged } from '../score/replayed.js';
import { addCounts, noCounts, type Score, scoreOf } from '../score/score.js';
import { pairVisits, type VisitOf } from './paired-visits.js';

/** What is used today, held visit by visit against what is recommended. */
export interface Now {
  settings: Settings & { version: 1; mask?: Polygon[] };
  /** The camera's dials, where each value stands at a position of its dial. */
  controls: Record<string, number> | null;
  score: Score;
  against: {
    /** Visits that only the recommended settings catch, and that only today's catch. */
    gained: VisitOf[];
    lost: VisitOf[];
    /** How many of these were caught by luck alone, by whichever settings catch them; null where no visit has a box to tell by. */
    byLuck: { gained: number; lost: number } | null;
    /** What the recommended settings add to recall, and to false triggers an hour; 90 %. */
    recall: Difference | null;
    falsePerHour: Difference | null;
  };
  /** Whether nobody said what is used: then it is each dial at its middle, the lower of two. */
  assumed: boolean;
  /** The camera's dials that were not named when it was said what is used, and where each then stands. */
  unnamed: Record<string, number>;
}

/** One clip as replayed under both groups of settings. */
export interface Replays {
  clip: string;
  now: Judged;
  recommended: Judged;
}

/** Holds today's settings against the recommended ones over the clips of a site. */
export function againstNow(clips: readonly Replays[]): Pick<Now, 'score' | 'against'> {
  const counts = addCounts(clips.map(({ now }) => now.counts ?? noCounts));
  const pairs = clips.flatMap(({ clip, now, recommended }) =>
    now.visits.map(({ start, end, name, caught, byLuck }, i) => ({
      visit: { clip, start, end, name: name ?? null },
      before: caught,
      after: recommended.visits[i]?.caught ?? false,
      // Only one of the two catches what is gained or lost.
      byLuck: byLuck === true || recommended.visits[i]?.byLuck === true,
    })),
  );
  const { gained, lost, recall } = pairVisits(pairs);
  const lucky = (some: typeof pairs) => some.filter(({ byLuck }) => byLuck).length;
  const balances = clips.flatMap(({ now, recommended }) => boutBalances(falseOf(recommended), falseOf(now)));
  return {
    score: scoreOf(counts),
    against: {
      gained: gained.map(({ visit }) => visit),
      lost: lost.map(({ visit }) => visit),
      byLuck: counts.boxed > 0 ? { gained: lucky(gained), lost: lucky(lost) } : null,
      recall,
      falsePerHour: rateDifference(balances, counts.watchedSeconds / 3600),
    },
  };
}

function falseOf({ triggers }: Judged): number[] {
  return triggers.filter(({ verdict }) => verdict === 'false').map(({ time }) => time);
}

/** What is to be done about today's settings. */
export type NowVerdict = 'change' | 'keep' | 'more of both' | 'less of both' | 'too little to tell';

/**
 * Whether to change: to be told only where the difference in visits or in false triggers lies on one side of none; where both
 * do, and speak against each other, it is a matter of what a visit is worth.
 */
export function verdictOn({ against: { recall, falsePerHour } }: Pick<Now, 'against'>): NowVerdict {
  const more = recall && recall.low > 0;
  const less = recall && recall.high < 0;
  const fewer = falsePerHour && falsePerHour.high < 0;
  const rather = falsePerHour && falsePerHour.low > 0;
  if (more && rather) return 'more of both';
  if (less && fewer) return 'less of both';
  if (more || fewer) return 'change';
  if (less || rather) return 'keep';
  return 'too little to tell';
}
