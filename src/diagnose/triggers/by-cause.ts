import { type Ratio, wilson } from '../../score/intervals.js';
import type { CauseSaid, ExplainedTrigger } from '../diagnosis.js';

/** The triggers of one clip, or of several, that are put down to one cause. */
export interface CauseCount {
  cause: CauseSaid;
  /** In order of time within each clip. */
  triggers: readonly ExplainedTrigger[];
  /** Of all explained triggers. */
  share: Ratio;
  /** The one put down to it most surely. */
  strongest: ExplainedTrigger;
}

/** Explained triggers by their cause, the commonest first, what is unknown last. */
export function byCause(explained: readonly ExplainedTrigger[]): CauseCount[] {
  const groups = new Map<CauseSaid, ExplainedTrigger[]>();
  for (const trigger of explained) {
    const group = groups.get(trigger.cause);
    if (group) group.push(trigger);
    else groups.set(trigger.cause, [trigger]);
  }
  return [...groups]
    .map(([cause, triggers]) => ({
      cause,
      triggers,
      share: wilson(triggers.length, explained.length) as Ratio,
      strongest: triggers.reduce((most, t) => ((t.probability ?? 1) > (most.probability ?? 1) ? t : most)),
    }))
    .sort(
      (a, b) =>
        Number(a.cause === 'unknown') - Number(b.cause === 'unknown') ||
        b.triggers.length - a.triggers.length,
    );
}

/** The minute from a clip's start in which most of some triggers fall, the first of several equal ones. */
export function busiestMinute(triggers: readonly ExplainedTrigger[]): { start: number; count: number } {
  const counts = new Map<number, number>();
  for (const { time } of triggers) {
    const minute = Math.floor(time / 60);
    counts.set(minute, (counts.get(minute) ?? 0) + 1);
  }
  return [...counts].reduce(
    (most, [minute, count]) => (count > most.count ? { start: 60 * minute, count } : most),
    { start: 0, count: 0 },
  );
}
