import type { Camera } from '../../camera/description.js';
import type { ResolvedSettings } from '../../camera/settings.js';
import type { Forecast } from '../../plan/forecast.js';
import type { Instant } from '../../plan/instant.js';
import type { PlanGoal } from '../../plan/plan-goal.js';
import type { Grid } from '../../sweep/grid.js';

/** What the plan of each site is made by. */
export interface SiteOptions {
  camera: Camera;
  grid: Grid;
  forecast: Forecast;
  goal: PlanGoal;
  /** In photos of nothing. */
  walkCost: number;
  mayWalk(at: Pick<Instant, 'ms' | 'offset'>): boolean;
  recordedOnly: boolean;
  seed: string;
  /** What is used now; null: nobody said. */
  inUse: ResolvedSettings | null;
}
