import type { SweepCounts } from '../sweep/counts.js';
import type { Grid } from '../sweep/grid.js';
import type { Goal } from '../tune/goal.js';
import { type Pool, poolOf } from '../tune/pool.js';
import { recommend } from '../tune/recommend.js';
import type { Swept } from '../tune/site-result.js';
import { FEWEST_FOR_ENOUGH, FEWEST_TO_TELL } from '../tune/tells.js';
import type { Off } from '../weather/off.js';
import type { Kind } from './kind.js';

/** What is known of the hours of one kind: swept clips that were recorded in it, or weather put onto one. */
export interface Evidence {
  kind: Kind;
  source: 'recorded' | 'simulated';
  clips: string[];
  parts: readonly Swept[];
  /** Of simulated weather: what it was put onto. */
  onto?: Onto;
  /** Of simulated weather: the stretch of the clip that it was put onto, seconds, and the visits in it. */
  sample?: { clip: string; start: number; end: number; visits: number };
  /** Of simulated weather: how far off its false triggers may be; null: it was held against no drawing. */
  off?: Off | null;
}

/** The recorded clip that weather was put onto, and what became of each of its blocks, in the same order. */
export interface Onto {
  clip: Swept;
  blocks: readonly SweepCounts[];
}

/** What settings are chosen by for some hours, and what is left out in turn to try the choice on. */
export interface Ground {
  pool: Pool;
  /** Whole clips, or blocks of time where there is one. */
  units: readonly SweepCounts[];
  onto?: Onto;
  /** Of simulated weather alone: how far off its false triggers may be; null: it was held against no drawing. */
  off?: Off | null;
}

/** Whole clips, or blocks of time where there is one clip only. */
export function unitsOf(parts: readonly Swept[]): readonly SweepCounts[] {
  const [only] = parts;
  return parts.length === 1 && only && only.blocks.length > 1 ? only.blocks : parts.map(({ whole }) => whole);
}

export function groundOf({
  source,
  parts,
  onto,
  off = null,
}: Pick<Evidence, 'source' | 'parts' | 'onto' | 'off'>): Ground {
  return {
    pool: poolOf(parts.map(({ whole }) => whole)),
    units: unitsOf(parts),
    ...(onto && { onto }),
    ...(source === 'simulated' && { off }),
  };
}

/**
 * What is left of a ground without a unit of any ground, and without whatever shows the same footage once more: other weather
 * put onto it would give away what was left out.
 * @returns null: nothing is left
 */
export function poolWithout({ pool, units, onto }: Ground, unit: SweepCounts): Pool | null {
  if (units.includes(unit)) return poolOfSome(units.filter((other) => other !== unit));
  if (!onto) return pool;
  if (onto.clip.whole === unit) return null;
  const place = onto.clip.blocks.indexOf(unit);
  return place < 0 ? pool : poolOfSome(onto.blocks.filter((_, i) => i !== place));
}

function poolOfSome(units: readonly SweepCounts[]): Pool | null {
  return units.length > 0 ? poolOf(units) : null;
}

/**
 * All that was recorded, in the same units as the kind of hours that a clip tells of has it: what is left out of one is left
 * out of both. A clip tells of the one kind that it was recorded in.
 */
export function groundOfAll(recorded: readonly Swept[], evidence: readonly Evidence[]): Ground {
  const unitsIn = (clip: Swept) => {
    const of = evidence.find(
      ({ source, parts }) => source === 'recorded' && parts.some(({ whole }) => whole === clip.whole),
    );
    return of && of.parts.length > 1 ? [clip.whole] : unitsOf([clip]);
  };
  return { pool: poolOf(recorded.map(({ whole }) => whole)), units: recorded.flatMap(unitsIn) };
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

/** Some hours together, and what they are told by. */
export interface PartOfMix {
  pool: Pool;
  hours: number;
  /** Where it is of other weather as well: what is known of false triggers in these hours alone. */
  bounds?: readonly Pool[];
}

/**
 * Counts as if each ground had been watched for as long a share of the recording as it has hours in the plan, with as many
 * visits a watched hour as were recorded: what one setting for all of them is chosen by.
 */
export function mixOf(of: readonly PartOfMix[], coming: Coming): Pool {
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

/** The same with the false triggers of each setting's worst hours in all of them: an allowance is to be kept in every hour. */
function worstOf(of: readonly PartOfMix[], coming: Coming): Pool {
  const mix = mixOf(of, coming);
  const pools = of
    .flatMap(({ pool, bounds = [] }) => [pool, ...bounds])
    .filter(({ watchedSeconds }) => watchedSeconds > 0);
  for (let i = 0; i < mix.size; i++) {
    mix.falseTriggers[i] = 0;
    for (const { falseTriggers, falseSquares, watchedSeconds } of pools) {
      const time = mix.watchedSeconds / watchedSeconds;
      if (time * falseTriggers[i]! <= mix.falseTriggers[i]!) continue;
      mix.falseTriggers[i] = time * falseTriggers[i]!;
      mix.falseSquares[i] = time * falseSquares[i]!;
    }
  }
  return mix;
}

/** What a setting for some hours together is chosen by; an allowance is to be kept in every one, as far as that is known. */
export function poolToChooseBy(of: readonly PartOfMix[], coming: Coming, goal: Goal): Pool {
  return goal.kind === 'allowance' ? worstOf(of, coming) : mixOf(of, coming);
}

/** The setting that tuning's own rule takes for some hours together. */
export function settingFor(of: readonly PartOfMix[], coming: Coming, grid: Grid, goal: Goal): number {
  return recommend(poolToChooseBy(of, coming, goal), grid, goal).setting;
}
