import type { SweepCounts } from '../sweep/counts.js';
import type { Grid } from '../sweep/grid.js';
import type { Goal } from '../tune/goal.js';
import { type Pool, poolOf } from '../tune/pool.js';
import { recommend } from '../tune/recommend.js';
import { FEWEST_FOR_ENOUGH, FEWEST_TO_TELL } from '../tune/tells.js';
import type { Swept } from '../tune/tune.js';
import type { Kind } from './kind.js';

/** What is known of the hours of one kind: swept clips that were recorded in it, or weather put onto one. */
export interface Evidence {
  kind: Kind;
  source: 'recorded' | 'simulated';
  clips: string[];
  parts: readonly Swept[];
}

/** What settings are chosen by for some hours, and what is left out in turn to try the choice on. */
export interface Ground {
  pool: Pool;
  /** Whole clips, or blocks of time where there is one. */
  units: readonly SweepCounts[];
}

/** Whole clips, or blocks of time where there is one clip only. */
export function unitsOf(parts: readonly Swept[]): readonly SweepCounts[] {
  const [only] = parts;
  return parts.length === 1 && only && only.blocks.length > 1 ? only.blocks : parts.map(({ whole }) => whole);
}

export function groundOf(parts: readonly Swept[]): Ground {
  return { pool: poolOf(parts.map(({ whole }) => whole)), units: unitsOf(parts) };
}

/** Whether dials of its own may rest on it: as many visits as tuning wants of recorded, and of simulated weather. */
export function mayRestOn({ source, parts }: Evidence): boolean {
  const visits = parts.reduce((sum, { whole }) => sum + whole.truth.visits.length, 0);
  return visits >= (source === 'recorded' ? FEWEST_TO_TELL : FEWEST_FOR_ENOUGH);
}

/** How often animals came while it was recorded: so often they are taken to come in any hour. */
export interface Coming {
  visits: number;
  hours: number;
}

export function comingOf(recorded: Pool): Coming {
  return { visits: recorded.visits, hours: recorded.watchedSeconds / 3600 };
}

/**
 * Counts as if each ground had been watched for as long a share of the recording as it has hours in the plan, with as many
 * visits a watched hour as were recorded: what one setting for all of them is chosen by.
 */
export function mixOf(of: readonly { pool: Pool; hours: number }[], coming: Coming): Pool {
  const all = of.reduce((sum, { hours }) => sum + hours, 0);
  const size = of[0]?.pool.size ?? 0;
  const empty = () => new Float64Array(size);
  const mix: Pool = {
    size,
    units: of.reduce((sum, { pool }) => sum + pool.units, 0),
    visits: coming.visits,
    watchedSeconds: 3600 * coming.hours,
    caught: empty(),
    own: empty(),
    falseTriggers: empty(),
    falseSquares: empty(),
    taken: empty(),
    countsAt: () => {
      throw new Error('a mix has no counts of its own');
    },
  };
  for (const { pool, hours } of of) {
    const share = hours / all;
    const visits = pool.visits > 0 ? (coming.visits * share) / pool.visits : 0;
    const time = pool.watchedSeconds > 0 ? (3600 * coming.hours * share) / pool.watchedSeconds : 0;
    for (let i = 0; i < size; i++) {
      mix.caught[i]! += visits * pool.caught[i]!;
      mix.own[i]! += visits * pool.own[i]!;
      mix.falseTriggers[i]! += time * pool.falseTriggers[i]!;
      mix.falseSquares[i]! += time * pool.falseSquares[i]!;
      mix.taken[i]! += time * pool.taken[i]!;
    }
  }
  return mix;
}

/** The setting that tuning's own rule takes for some hours together. */
export function settingFor(
  of: readonly { pool: Pool; hours: number }[],
  coming: Coming,
  grid: Grid,
  goal: Goal,
): number {
  return recommend(mixOf(of, coming), grid, goal).setting;
}
