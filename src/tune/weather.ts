import type { Stretch } from '../score/stretches.js';
import type { SweepCounts } from '../sweep/counts.js';
import type { Grid } from '../sweep/grid.js';
import { type Condition, conditionNames } from '../weather/conditions.js';
import type { Off } from '../weather/off.js';
import { type Gain, gainOfChanging, type WeatherUnit } from './gain.js';
import { type Goal, givenBy } from './goal.js';
import { type Pool, poolOf } from './pool.js';
import { recommend } from './recommend.js';
import type { WeatherToTry } from './weather-to-try.js';

/** Weather put onto a recorded clip, swept. */
export interface SimulatedSweep extends Omit<WeatherToTry, 'to'> {
  /** The clip it was put onto. */
  clip: string;
  counts: SweepCounts;
  /** How far off its false triggers may be; null or left out: such weather was held against no drawing. */
  off?: Off | null;
  /** Parts of the clip that were asked for, in order, each replayed by itself; empty counts for those outside the sample. */
  pieces?: readonly SweepCounts[];
  /** The same block by block of time; left out: it cannot be told whether changing with the weather is worth it. */
  blocks?: readonly SweepCounts[];
}

/** Whether all of it was put on, as assumed, and onto each frame. */
export function isAsAssumed({ doubt, without, still }: SimulatedSweep): boolean {
  return doubt === undefined && without === undefined && still === undefined;
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
  /** Whether wind was left out, for nothing is known there that it could move. */
  motionless: boolean;
}

/** All that is known of one kind of weather. */
export interface WeatherGroup {
  condition: Condition;
  source: 'recorded' | 'simulated';
  clips: string[];
  parts: SweepCounts[];
  /** The same, clip by clip, or block by block of time where there is one clip only. */
  units: WeatherUnit[];
  pool: Pool;
  /** The setting recommended for it. */
  setting: number;
}

/** A recorded clip, swept. */
export interface RecordedSweep {
  clip: string;
  conditions: readonly Condition[];
  /** Whether clip.json says that it is simulated. */
  simulated: boolean;
  whole: SweepCounts;
  blocks: readonly SweepCounts[];
}

/** The clips of each kind of weather; where there are none, what was simulated as assumed. */
export function weatherGroups(
  recorded: readonly RecordedSweep[],
  simulated: readonly SimulatedSweep[],
  grid: Grid,
  goal: Goal,
): WeatherGroup[] {
  const clipUnits = new Map(recorded.map((clip) => [clip, unitsOf(clip, recorded)]));
  return conditionNames.flatMap((condition) => {
    const given = recorded.filter((c) => c.conditions.includes(condition));
    // Where such weather was recorded, clips that were simulated do not speak for it.
    const real = given.filter((c) => !c.simulated);
    const filmed = real.length > 0 ? real : given;
    const drawn = simulated.filter((s) => s.condition === condition && isAsAssumed(s));
    if (filmed.length + drawn.length === 0) return [];
    const parts = filmed.length > 0 ? filmed.map((c) => c.whole) : drawn.map((s) => s.counts);
    const pool = poolOf(parts);
    return [
      {
        condition,
        source: real.length > 0 ? ('recorded' as const) : ('simulated' as const),
        clips: [...new Set((filmed.length > 0 ? filmed : drawn).map((c) => c.clip))],
        parts,
        units:
          filmed.length > 0
            ? filmed.flatMap((clip) => clipUnits.get(clip) ?? [])
            : drawn.flatMap(({ clip, counts, blocks }) =>
                (blocks ?? [counts]).map((part) => ({ conditions: [condition], clip, counts: part })),
              ),
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

/** In the gain every kind of weather weighs the same, however much was filmed of it; a clip of two kinds counts once. */
export function adviseOnWeather(groups: readonly WeatherGroup[], grid: Grid, goal: Goal): WeatherAdvice {
  const choose = (parts: readonly SweepCounts[]) => recommend(poolOf(parts), grid, goal).setting;
  const one = choose([...new Set(groups.flatMap((g) => g.parts))]);
  const units = [...new Set(groups.flatMap((g) => g.units))];
  const gain = gainOfChanging(units, choose, (counts, setting) => givenBy(counts, setting, goal));
  return { one, gain, worthIt: gain !== null && gain.low > 0 };
}

/** A clip as what is left out as one; block by block where any of its kinds of weather has no other clip. */
function unitsOf(
  { clip, conditions, whole, blocks }: RecordedSweep,
  all: readonly RecordedSweep[],
): WeatherUnit[] {
  const isAlone = (kind: Condition) => all.filter((other) => other.conditions.includes(kind)).length === 1;
  const parts = conditions.some(isAlone) && blocks.length > 1 ? blocks : [whole];
  return parts.map((counts) => ({ conditions, clip, counts }));
}
