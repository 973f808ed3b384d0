import type { Stretch } from '../score/stretches.js';
import type { SweepCounts } from '../sweep/counts.js';
import type { Grid } from '../sweep/grid.js';
import { type Condition, conditionNames } from '../weather/conditions.js';
import { type Gain, gainOfChanging } from './gain.js';
import { type Goal, isWithin, worthOf } from './goal.js';
import { type Pool, poolOf } from './pool.js';
import { recommend } from './recommend.js';

/** Weather put onto a recorded clip, swept. */
export interface SimulatedSweep {
  condition: Condition;
  /** The clip it was put onto. */
  clip: string;
  /** Beaufort number, mm/h or lux. */
  strength: number;
  /** Sway against what is assumed: 1, or the half and the double that the advice is tried with. */
  sway: number;
  counts: SweepCounts;
}

/** Weather put onto a sample of a labelled clip and replayed under every setting, without a picture written. */
export interface Simulated {
  clip: string;
  sweeps: SimulatedSweep[];
  sample: Stretch;
  /** Visits within the sample. */
  visits: number;
  assumed: string[];
  defaults: string[];
}

/** All that is known of one kind of weather. */
export interface WeatherGroup {
  condition: Condition;
  source: 'recorded' | 'simulated';
  clips: string[];
  parts: SweepCounts[];
  pool: Pool;
  /** The setting recommended for it. */
  setting: number;
}

/** The clips of each kind of weather; where there are none, what was simulated with sway as assumed. */
export function weatherGroups(
  recorded: readonly { clip: string; conditions: Condition[]; simulated: boolean; whole: SweepCounts }[],
  simulated: readonly SimulatedSweep[],
  grid: Grid,
  goal: Goal,
): WeatherGroup[] {
  return conditionNames.flatMap((condition) => {
    const filmed = recorded.filter((c) => c.conditions.includes(condition));
    const drawn = simulated.filter((s) => s.condition === condition && s.sway === 1);
    if (filmed.length + drawn.length === 0) return [];
    const parts = filmed.length > 0 ? filmed.map((c) => c.whole) : drawn.map((s) => s.counts);
    const pool = poolOf(parts);
    return [
      {
        condition,
        source: filmed.some((c) => !c.simulated) ? ('recorded' as const) : ('simulated' as const),
        clips: [...new Set((filmed.length > 0 ? filmed : drawn).map((c) => c.clip))],
        parts,
        pool,
        setting: recommend(pool, grid, goal).setting,
      },
    ];
  });
}

/** What to do about the weather: leave one group of settings in place, or change it. */
export interface WeatherAdvice {
  /** The one setting for everything. */
  one: number;
  /** What changing would add to recall over it. */
  gain: Gain | null;
  worthIt: boolean;
}

/** In the gain every kind of weather weighs the same, however much was filmed of it. */
export function adviseOnWeather(groups: readonly WeatherGroup[], grid: Grid, goal: Goal): WeatherAdvice {
  const one = recommend(poolOf(groups.flatMap((g) => g.parts)), grid, goal).setting;
  const gain = gainOfChanging(groups, one);
  return { one, gain, worthIt: gain !== null && gain.low > 0 };
}

/** Recall (or worth, in visits) lost by keeping to advice that rests on a wrong sway, from which on the advice counts as another. */
const FLIPS_AT = 0.1;

/** What the advice for wind would be if branches swayed otherwise than assumed, and whether that is other advice. */
export interface Doubt {
  sway: number;
  setting: number;
  flips: boolean;
}

/** Tries the setting advised for simulated wind where sway is half and twice what is assumed. */
export function doubtsAboutSway(
  advised: number,
  simulated: readonly SimulatedSweep[],
  grid: Grid,
  goal: Goal,
): Doubt[] {
  const sways = [...new Set(simulated.filter((s) => s.condition === 'wind').map((s) => s.sway))];
  return sways
    .filter((sway) => sway !== 1)
    .map((sway) => {
      const pool = poolOf(
        simulated.filter((s) => s.condition === 'wind' && s.sway === sway).map((s) => s.counts),
      );
      const { setting, kept } = recommend(pool, grid, goal);
      const lost = lostBy(advised, setting, pool, goal) / Math.max(1, pool.visits);
      const breaks = kept && !isWithin(pool.falseTriggers[advised]!, pool.watchedSeconds, goal);
      return { sway, setting, flips: setting !== advised && (breaks || lost >= FLIPS_AT) };
    });
}

/** Visits that a setting gives less than another, or what comes to as many in worth. */
function lostBy(setting: number, than: number, { caught, falseTriggers }: Pool, goal: Goal): number {
  if (goal.kind === 'allowance') return caught[than]! - caught[setting]!;
  const worth = (i: number) => worthOf(caught[i]!, falseTriggers[i]!, goal);
  return (worth(than) - worth(setting)) / goal.photos;
}
