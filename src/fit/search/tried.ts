import type { ColumnSource } from '../../sweep/columns.js';
import { findRuns, march, roomForRuns } from '../../sweep/march.js';
import type { Clock } from '../fired/clock.js';
import type { Tolerance } from '../score/agreement.js';
import type { Best, Values } from '../score/scores.js';
import { type Look, lookName } from './look.js';
import type { Looking, LookTried } from './looking.js';
import type { Reckoning } from './reckoning.js';

/** A description with the values under which it explains the told times best. */
export interface Tried extends LookTried {
  source: ColumnSource;
  best: Best;
  /** The clock under which it comes nearest: a frame more of persistence is a frame of offset. */
  clock: Clock;
  /** What they are ranked by: how near the best comes, and under how many values. */
  worth: number;
}

/** What a search came to. */
export interface Searched {
  looking: Looking;
  reckoning: Reckoning;
  tolerance: Tolerance;
  cooldowns: readonly number[];
  /** The cooldowns that would be tried by some of the told times alone. */
  cooldownsBy(times: readonly number[]): readonly number[];
  /** Lowest level of the evidence by now. */
  floor: number;
  /** All that was tried, the best first, each description once. */
  tried: Tried[];
}

/** How much it counts, while a search goes on, that many values around the best do as well. */
export const FIRMNESS = 0.5;

/** What is not simple must explain more. */
export function priceOf({ whileBusy, smooth }: Look, slack: number): number {
  return (whileBusy === 'continues' ? 0 : slack) + 0.1 * slack * smooth;
}

/**
 * When a description fires, seconds on the clip.
 * @param mostChanged pixels of all that changed above which it does not; null: no limit
 */
export async function predictedBy(
  { source }: Pick<Tried, 'source'>,
  { kind, level, area, persistence, cooldown }: Values,
  times: Float64Array,
  mostChanged: number | null = null,
): Promise<number[]> {
  const column = (await source.columns([level], kind)).get(level)!;
  const changed = mostChanged === null ? null : (await source.columns([level], 'changed')).get(level)!;
  const runs = findRuns(column, changed, area, mostChanged ?? 0, roomForRuns(times.length));
  const predicted: number[] = [];
  march(runs, times, persistence, cooldown, (frame) => predicted.push(times[frame]!));
  return predicted;
}

/** Tells what was tried apart. */
export function nameOf({ look }: Pick<LookTried, 'look'>): string {
  return lookName(look);
}
