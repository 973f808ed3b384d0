import type { Between } from '../outing/between.js';
import { Z90 } from '../score/intervals.js';
import type { SweepCounts } from '../sweep/counts.js';
import type { Grid } from '../sweep/grid.js';
import type { Pool } from '../tune/pool.js';
import { turnedBack } from '../tune/turn-back.js';
import { type Coming, type Ground, poolWithout, settingFor } from './evidence.js';
import { type PlanGoal, worthBy } from './plan-goal.js';

/** What a week of changing settings gives over one setting in place, the walks not counted; 90 % intervals. */
export interface WeekGain {
  /** Share of all visits of the hours that are of use. */
  recall: Between;
  /** Photos of nothing more; below 0: fewer. */
  photosOfNothing: Between;
  /** Both together in photos of nothing, a visit as worth so many; within an allowance the visits alone. */
  worth: Between;
}

/** Hours of one ground that settings other than the one are in force for. */
export interface Changed {
  ground: Ground;
  hours: number;
  /** Of those among them whose ground is of other weather as well: what is known of their own. */
  bounds: readonly Ground[];
}

/** What is left of what bounds the false triggers of some hours. */
export function boundsWithout({ bounds }: Pick<Changed, 'bounds'>, unit: SweepCounts): Pool[] {
  return bounds.flatMap((ground) => poolWithout(ground, unit) ?? []);
}

export interface GainInput {
  /** Every ground with all its hours of use. */
  all: readonly Changed[];
  /** For each setting of the course that is not the one: the hours it is in force. */
  groups: readonly (readonly Changed[])[];
  coming: Coming;
  grid: Grid;
  goal: PlanGoal;
}

/**
 * What changing adds over the hours that are changed, on footage that neither choice was made on: each unit in turn is left
 * out of all, the one setting and that of its hours are chosen anew by the same rule, and both are tried on it. Null where it cannot be told: a
 * ground with fewer than two units, without visits or without watched time.
 */
export function gainOfWeek({ all, groups, coming, grid, goal }: GainInput): WeekGain | null {
  const changed = groups.flat();
  if (changed.some(({ ground }) => !isTellable(ground))) return null;
  const useHours = all.reduce((sum, { hours }) => sum + hours, 0);
  const rate = coming.visits / coming.hours;
  const pulls = new Map<SweepCounts, { visits: number; photos: number }>();
  const sum = { visits: 0, photos: 0 };
  // One visit's and one bout's worth is added for each: few that agree do not make certain.
  const floor = { visits: 0, photos: 0, worth: 0 };
  for (const group of groups) {
    for (const { ground, hours } of group) {
      const perVisit = (hours * rate) / ground.pool.visits;
      const perTrigger = (hours * goal.photosPerTrigger) / (ground.pool.watchedSeconds / 3600);
      const tried = ground.units.map((unit) => triedOn(unit, group, all, coming, grid, goal));
      const mean = {
        visits: perVisit * tried.reduce((n, { visits }) => n + visits, 0),
        photos: perTrigger * tried.reduce((n, { triggers }) => n + triggers, 0),
      };
      sum.visits += mean.visits;
      sum.photos += mean.photos;
      const inUnits = {
        visits: ground.units.reduce((n, { truth }) => n + truth.visits.length, 0),
        seconds: ground.units.reduce((n, { truth }) => n + truth.watchedSeconds, 0),
      };
      ground.units.forEach((unit, u) => {
        const { visits, triggers } = tried[u]!;
        const pull = pulls.get(unit) ?? { visits: 0, photos: 0 };
        const ofVisits = unit.truth.visits.length / Math.max(1, inUnits.visits);
        const ofTime = unit.truth.watchedSeconds / Math.max(1, inUnits.seconds);
        pulls.set(unit, {
          visits: pull.visits + perVisit * visits - ofVisits * mean.visits,
          photos: pull.photos + perTrigger * triggers - ofTime * mean.photos,
        });
      });
      floor.visits += perVisit ** 2;
      floor.photos += perTrigger ** 2;
      floor.worth += worthBy(goal, perVisit, 0) ** 2 + worthBy(goal, 0, perTrigger) ** 2;
    }
  }
  const each = [...pulls.values()];
  const more = each.length / Math.max(1, each.length - 1);
  const interval = (
    value: number,
    of: (pull: { visits: number; photos: number }) => number,
    least: number,
  ) => {
    const variance = more * each.reduce((total, pull) => total + of(pull) ** 2, 0) + least;
    const half = Z90 * Math.sqrt(variance);
    return { value, low: value - half, high: value + half };
  };
  const visitsInUse = useHours * rate;
  const share = ({ value, low, high }: Between) => ({
    value: value / visitsInUse,
    low: low / visitsInUse,
    high: high / visitsInUse,
  });
  return {
    recall: share(interval(sum.visits, ({ visits }) => visits, floor.visits)),
    photosOfNothing: interval(sum.photos, ({ photos }) => photos, floor.photos),
    worth: interval(
      worthBy(goal, sum.visits, sum.photos),
      ({ visits, photos }) => worthBy(goal, visits, photos),
      floor.worth,
    ),
  };
}

/** Whether a choice made on it can be tried on parts of it that were left out. */
export function isTellable({ pool, units }: Ground): boolean {
  return units.length >= 2 && pool.visits > 0 && pool.watchedSeconds > 0;
}

/** What the setting of a group catches more, and fires falsely more, than the one on a unit that neither was chosen on. */
function triedOn(
  unit: SweepCounts,
  group: readonly Changed[],
  all: readonly Changed[],
  coming: Coming,
  grid: Grid,
  goal: PlanGoal,
): { visits: number; triggers: number } {
  const without = (of: readonly Changed[]) =>
    of.flatMap((part) => {
      const pool = poolWithout(part.ground, unit);
      return pool ? [{ pool, hours: part.hours, bounds: boundsWithout(part, unit) }] : [];
    });
  const one = settingFor(without(all), coming, grid, goal);
  const seen = group.flatMap(({ ground }) => ground.units.filter((other) => other !== unit));
  const own = turnedBack(settingFor(without(group), coming, grid, goal), one, seen, grid);
  return {
    visits: unit.own[own]! - unit.own[one]!,
    triggers: unit.falseTriggers[own]! - unit.falseTriggers[one]!,
  };
}
