import type { Goal } from '../tune/goal.js';

/** What is wanted of the coming hours: as in tuning, and what a visit counts against a walk, in photos of nothing. */
export type PlanGoal = Goal & { photos: number; photosPerTrigger: number };

/** What visits and photos of nothing come to, in photos of nothing: within an allowance these are put up with. */
export function worthBy(goal: PlanGoal, visits: number, photosOfNothing: number): number {
  return goal.photos * visits - (goal.kind === 'worth' ? photosOfNothing : 0);
}
