import type { AreaKind, ColumnSource, Columns } from '../../sweep/columns.js';
import { type Clock, setRight } from '../fired/clock.js';
import type { Told } from '../fired/told.js';
import { isRounded, type Wanted, wantedBy } from '../fired/wanted.js';
import { lateness, type Tolerance } from '../score/agreement.js';
import { type Best, middleOfBest, type Scores, scoreAll, slackFor, support } from '../score/scores.js';
import { type Axes, axesAround, closeAxes, coarseAxes } from './axes.js';
import { NEARLY_ALL } from './carried.js';
import type { Look } from './look.js';
import type { LookTried } from './looking.js';
import { seedOf } from './seeds.js';
import { FIRMNESS, predictedBy, priceOf, type Tried } from './tried.js';

/** What a description is held against, and within what. */
export interface Within {
  told: Told;
  /** The clock to begin with. */
  clock: Clock;
  /** The lowest level. */
  floor: number;
  cooldowns: readonly number[];
  tolerance: Tolerance;
  /** Of the frames, seconds. */
  times: Float64Array;
  /** Of the frames, a second. */
  rate: number;
  /** Of the clip. */
  seconds: number;
}

/** How often a description's own clock is set right. */
const CLOCK_ROUNDS = 2;

/**
 * Holds one description against the told times, coarsely, then around its best, then by the clock that it suggests itself.
 * @param source its evidence
 * @returns null where nothing that it fires comes near them
 */
export async function hold(one: LookTried, source: ColumnSource, within: Within): Promise<Tried | null> {
  const { times, floor, told, tolerance, seconds, cooldowns } = within;
  const wantedAt = (clock: Clock) => wantedBy(told, clock, tolerance, [0, seconds]);
  const pixels = one.look.width * one.look.height;
  const coarse = coarseAxes(floor, pixels, cooldowns);
  const coarseColumns = await source.bothColumns(coarse.levels);
  const begun = await begin(source, coarseColumns, coarse, within);
  if (!begun) return null;
  const { first } = begun;
  const wanted = wantedAt(begun.clock);
  const { length } = wanted.fired;
  const seed = seedOf(coarseColumns, times, coarse, wanted);
  const start = seed && seed.own > first.most ? seed.values : first.values;
  const near = axesAround(start, floor, pixels, cooldowns);
  const columns = await source.bothColumns(near.levels);
  let scores = scoreAll(columns, times, near, wanted);
  let best = middleOfBest(scores, length) ?? first;
  const peak = seedOf(columns, times, near, wanted);
  if (peak && peak.own > best.most) {
    // Narrower than the steps around it.
    const close = closeAxes(peak.values, floor, pixels, cooldowns);
    const closely = scoreAll(await source.bothColumns(close.levels), times, close, wanted);
    const found = middleOfBest(closely, length);
    if (found && found.own > best.own) {
      scores = closely;
      best = found;
    }
  }
  if (best.own < NEARLY_ALL) {
    const led = await ledBy(coarseColumns, coarse, source, within, wanted, one.look);
    if (led && led.best.own > best.own) ({ scores, best } = led);
  }
  let { clock } = begun;
  for (let round = 0; round < CLOCK_ROUNDS; round++) {
    const next = await setRightBy({ source, best }, clock, times, wantedAt(clock));
    const by = scoreAll(columns, times, near, wantedAt(next));
    const again = middleOfBest(by, length);
    if (!again || again.own <= best.own) break;
    scores = by;
    best = again;
    clock = next;
  }
  // The values around reach equally far for each, so that what they support may be compared; near its best counts most.
  const firm = support(scores, pixels, best.own, length) - best.own;
  const worth = best.own + FIRMNESS * firm - priceOf(one.look, slackFor(length));
  return { ...one, source, best, clock, worth };
}

/** Frames by which an own clock must differ for anything to come of it. */
const WORTH_A_CLOCK = 0.75;

/**
 * The best of coarse values, by the clock given or, of times in whole seconds, by one of its own: a clock that is right for one description is
 * off by frames for another that waits for more of them, and a second's rounding more than hides that.
 */
async function begin(
  source: ColumnSource,
  columns: Record<AreaKind, Columns>,
  coarse: Axes,
  { told, clock, tolerance, times, seconds, rate }: Within,
): Promise<{ first: Best; clock: Clock } | null> {
  const wantedAt = (at: Clock, most = tolerance.most) =>
    wantedBy(told, at, { ...tolerance, most }, [0, seconds]);
  const wanted = wantedAt(clock);
  const { length } = wanted.fired;
  const first = middleOfBest(scoreAll(columns, times, coarse, wanted), length);
  if (!isRounded(told, rate) || (first && first.own >= NEARLY_ALL)) return first && { first, clock };
  const wide = wantedAt(clock, tolerance.most + told.quantum / 2);
  const free = middleOfBest(scoreAll(columns, times, coarse, wide, 'exactly'), length);
  if (!free) return first && { first, clock };
  const own = await setRightBy({ source, best: free }, clock, times, wide);
  if (Math.abs(own.offset - clock.offset) < WORTH_A_CLOCK / rate) return first && { first, clock };
  const other = middleOfBest(scoreAll(columns, times, coarse, wantedAt(own)), length);
  if (other && other.own > (first?.own ?? 0)) return { first: other, clock: own };
  return first && { first, clock };
}

/** Cooldowns that are tried with times that lead: the longest, for shorter ones are led alike. */
const FEW_COOLDOWNS = 3;

/**
 * The best by itself near the values that do best when the times lead them: where something keeps firing the camera, what is right
 * is a narrow peak among values that are all out of step, and steps of a grid pass over it.
 */
async function ledBy(
  coarseColumns: Record<AreaKind, Columns>,
  coarse: Axes,
  source: ColumnSource,
  { times, floor }: Within,
  wanted: Wanted,
  { width, height }: Look,
): Promise<{ scores: Scores; best: Best } | null> {
  const { length } = wanted.fired;
  const cooldowns = coarse.cooldowns.slice(-FEW_COOLDOWNS);
  const first = middleOfBest(
    scoreAll(coarseColumns, times, { ...coarse, cooldowns }, wanted, 'guided'),
    length,
  );
  if (!first) return null;
  const near = axesAround(first.values, floor, width * height, cooldowns);
  const nearColumns = await source.bothColumns(near.levels);
  const led = middleOfBest(scoreAll(nearColumns, times, near, wanted, 'guided'), length);
  if (!led) return null;
  const close = closeAxes(led.values, floor, width * height, coarse.cooldowns);
  const scores = scoreAll(await source.bothColumns(close.levels), times, close, wanted);
  const best = middleOfBest(scores, length);
  return best && { scores, best };
}

/** A clock set right by what a description fires near the told times. */
export async function setRightBy(
  one: Pick<Tried, 'source' | 'best'>,
  clock: Clock,
  times: Float64Array,
  { fired, tolerance }: Wanted,
): Promise<Clock> {
  const predicted = await predictedBy(one, one.best.values, times);
  return setRight(clock, lateness(fired, predicted, tolerance));
}
