import type { ColumnSource } from '../../sweep/columns.js';
import { findRuns, march, roomForRuns } from '../../sweep/march.js';
import type { Wanted } from '../fired/wanted.js';
import { agreementOf } from '../score/agreement.js';
import type { Values } from '../score/scores.js';

/** Limits that are tried, evenly spread over what changed in frames that would count. */
const TRIED = 60;
/** Wrong triggers that a limit must mend: one may be luck. */
const LEAST_MENDED = 2;

/** The most that may change, pixels, and what is fired under it. */
export interface Limit {
  mostChanged: number;
  predicted: number[];
}

/** The upper limit that the fired times ask of a description, as in upperLimit. */
export async function limitOf(
  source: ColumnSource,
  values: Values,
  times: Float64Array,
  wanted: Wanted,
): Promise<Limit | null> {
  const columns = await source.bothColumns([values.level]);
  const [area, changed] = [columns[values.kind].get(values.level)!, columns.changed.get(values.level)!];
  return upperLimit(area, changed, times, values, wanted);
}

/**
 * The most that may change for a camera to fire (an upper limit, against gusts and clouds), where the fired times ask for one: without
 * it the description would fire at least twice more often wrongly. Of limits that do as well the middle.
 * @param area what counts, by frame, and `changed` all that changed, at the level of `values`
 * @returns pixels, or null where no limit is asked for
 */
export function upperLimit(
  area: Uint32Array,
  changed: Uint32Array,
  times: Float64Array,
  values: Values,
  wanted: Wanted,
): Limit | null {
  const runs = roomForRuns(times.length);
  const firedUnder = (limit: number) => {
    const predicted: number[] = [];
    findRuns(area, changed, values.area, limit, runs);
    march(runs, times, values.persistence, values.cooldown, (frame) => predicted.push(times[frame]!));
    return predicted;
  };
  const { fired, tolerance, from, to } = wanted;
  const held = (limit: number) => {
    const predicted = firedUnder(limit).filter((time) => time >= from && time < to);
    const { extra, missing } = agreementOf(fired, predicted, tolerance);
    return { limit, wrong: extra + missing };
  };
  const counting = changed.filter((_, frame) => area[frame]! >= values.area).sort();
  const limits = new Set<number>();
  for (let i = 0; i < TRIED; i++) limits.add(counting[Math.floor((i * counting.length) / TRIED)] ?? 0);
  const tried = [...limits].map(held);
  const least = Math.min(...tried.map(({ wrong }) => wrong));
  if (held(Number.POSITIVE_INFINITY).wrong - least < LEAST_MENDED) return null;
  const good = tried.filter(({ wrong }) => wrong === least).map(({ limit }) => limit);
  good.sort((a, b) => a - b);
  // What was seen to fire is the lower edge, what was not the upper one: right lies anywhere between.
  const above = Math.min(...tried.map(({ limit }) => limit).filter((limit) => limit > good.at(-1)!));
  const between = Math.round(Math.sqrt(good[0]! * above));
  const mostChanged =
    above < Number.POSITIVE_INFINITY && held(between).wrong === least ? between : good[good.length >> 1]!;
  return { mostChanged, predicted: firedUnder(mostChanged) };
}
