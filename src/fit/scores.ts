import type { AreaKind, Columns } from '../sweep/columns.js';
import { findRuns, march, roomForRuns } from '../sweep/march.js';
import { closeness, type Tolerance } from './agreement.js';
import type { Axes } from './axes.js';

/** Fired times on the clip's clock, and within which part of it they are held against predicted ones. */
export interface Wanted {
  /** Seconds, rising. */
  fired: Float64Array;
  tolerance: Tolerance;
  /** Seconds; predicted times outside do not count. */
  from: number;
  to: number;
}

/** How well each combination of values explains the fired times. */
export interface Scores {
  axes: Axes;
  /** Closeness, 0 to 1: by kind, level, area, persistence, cooldown, the last turning fastest. */
  values: Float32Array;
}

/** Places along each axis, in the order of the axes. */
export type Place = readonly [
  kind: number,
  level: number,
  area: number,
  persistence: number,
  cooldown: number,
];

/** One combination of values. */
export interface Values {
  kind: AreaKind;
  level: number;
  area: number;
  persistence: number;
  cooldown: number;
}

/** Fewer triggers than this share of the fired times can never be made good by waiting or counting longer. */
const TOO_FEW = 0.4;

/**
 * Holds every combination against the fired times. Exact: each is the trigger machine over the evidence.
 * @param columns for each kind areas by level and frame
 */
export function scoreAll(
  columns: Record<AreaKind, Columns>,
  times: Float64Array,
  axes: Axes,
  wanted: Wanted,
): Scores {
  const { kinds, levels, areas, persistences, cooldowns } = axes;
  const values = new Float32Array(
    kinds.length * levels.length * areas.length * persistences.length * cooldowns.length,
  );
  const runs = roomForRuns(times.length);
  const predicted = new Float64Array(times.length);
  const each = persistences.length * cooldowns.length;
  let count = 0;
  const { fired, tolerance, from, to } = wanted;
  const take = (frame: number) => {
    const time = times[frame]!;
    if (time >= from && time < to) predicted[count++] = time;
  };
  kinds.forEach((kind, k) => {
    levels.forEach((level, l) => {
      const column = columns[kind].get(level)!;
      areas.forEach((area, a) => {
        findRuns(column, null, area, 0, runs);
        if (runs.count === 0) return;
        let at = ((k * levels.length + l) * areas.length + a) * each;
        for (let p = 0; p < persistences.length; p++) {
          for (let c = 0; c < cooldowns.length; c++, at++) {
            count = 0;
            march(runs, times, persistences[p]!, cooldowns[c]!, take);
            if (count < TOO_FEW * fired.length) {
              // Longer cooldowns fire less.
              at += cooldowns.length - c;
              break;
            }
            values[at] = closeness(fired, predicted, count, tolerance);
          }
        }
      });
    });
  });
  return { axes, values };
}

export function placeOf({ axes }: Scores, index: number): Place {
  const sizes = sizesOf(axes);
  const place = [0, 0, 0, 0, 0];
  for (let axis = 4, rest = index; axis >= 0; axis--) {
    place[axis] = rest % sizes[axis]!;
    rest = Math.floor(rest / sizes[axis]!);
  }
  return place as unknown as Place;
}

export function valuesAt({ kinds, levels, areas, persistences, cooldowns }: Axes, place: Place): Values {
  return {
    kind: kinds[place[0]]!,
    level: levels[place[1]]!,
    area: areas[place[2]]!,
    persistence: persistences[place[3]]!,
    cooldown: cooldowns[place[4]]!,
  };
}

function sizesOf({ kinds, levels, areas, persistences, cooldowns }: Axes): number[] {
  return [kinds, levels, areas, persistences, cooldowns].map(({ length }) => length);
}

/** The middle of the best. */
export interface Best {
  place: Place;
  values: Values;
  /** The highest closeness of any. */
  most: number;
  /** Its own. */
  own: number;
  /** Its own and its neighbours' together: high where much around explains the times as well. */
  firm: number;
}

/** How far neighbours reach along levels and areas, in steps. */
const REACH = 2;

/**
 * Of the combinations within `slack` of the best the one whose neighbours do best too: the middle of a plateau, never its
 * edge, for an edge is where the next clip falls off.
 */
export function middleOfBest(scores: Scores, slack: number): Best | null {
  const { values, axes } = scores;
  let most = 0;
  for (const value of values) if (value > most) most = value;
  if (most === 0) return null;
  const sizes = sizesOf(axes);
  let best: Best | null = null;
  for (let index = 0; index < values.length; index++) {
    const own = values[index]!;
    if (own < most - slack) continue;
    const place = placeOf(scores, index);
    const firm = (own + around(values, sizes, place)) / 2;
    if (!best || firm > best.firm) best = { place, values: valuesAt(axes, place), most, own, firm };
  }
  return best;
}

/** The mean over neighbours along level and area, and along cooldown; beyond an end the end stands. */
function around(values: Float32Array, sizes: readonly number[], place: Place): number {
  const [, levels, areas, persistences, cooldowns] = sizes as [number, number, number, number, number];
  const at = (l: number, a: number, c: number) =>
    values[
      (((place[0] * levels + clamp(l, levels)) * areas + clamp(a, areas)) * persistences + place[3]) *
        cooldowns +
        clamp(c, cooldowns)
    ]!;
  let sum = 0;
  let n = 0;
  for (let l = -REACH; l <= REACH; l++) {
    for (let a = -REACH; a <= REACH; a++, n++) sum += at(place[1] + l, place[2] + a, place[4]);
  }
  for (const c of [-1, 1]) {
    sum += REACH * at(place[1], place[2], place[4] + c);
    n += REACH;
  }
  return sum / n;
}

function clamp(x: number, size: number): number {
  return Math.max(0, Math.min(size - 1, x));
}
