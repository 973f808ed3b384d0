import type { AreaKind, Columns } from '../../sweep/columns.js';
import { findRuns, march, roomForRuns } from '../../sweep/march.js';
import type { Wanted } from '../fired/wanted.js';
import type { Axes } from '../search/axes.js';
import { closeness, exactCloseness } from './agreement.js';
import { guidedCloseness } from './guided.js';
import { massesOf } from './plausible.js';

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

/** Of the fired times: what fires less often, or more often, explains nothing. */
const TOO_FEW = 0.4;
const TOO_MANY = 2.2;

/**
 * Holds every combination against the fired times. Exact: each is the trigger machine over the evidence.
 * @param columns for each kind areas by level and frame
 * @param how by itself, led by the fired times, or by itself and as exactly as they were told
 * @param mostChanged pixels of all that changed above which nothing fires; null: no limit
 */
export function scoreAll(
  columns: Record<AreaKind, Columns>,
  times: Float64Array,
  axes: Axes,
  wanted: Wanted,
  how: 'alone' | 'guided' | 'exactly' = 'alone',
  mostChanged: number | null = null,
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
  const nearness = how === 'exactly' ? exactCloseness : closeness;
  const take = (frame: number) => {
    const time = times[frame]!;
    if (time >= from && time < to) predicted[count++] = time;
  };
  kinds.forEach((kind, k) => {
    levels.forEach((level, l) => {
      const column = columns[kind].get(level)!;
      const changed = mostChanged === null ? null : columns.changed.get(level)!;
      areas.forEach((area, a) => {
        findRuns(column, changed, area, mostChanged ?? 0, runs);
        if (runs.count === 0) return;
        // Whatever waits or counts less long fires more often still.
        count = 0;
        march(runs, times, persistences.at(-1)!, cooldowns.at(-1)!, take);
        if (count > TOO_MANY * fired.length) return;
        let at = ((k * levels.length + l) * areas.length + a) * each;
        if (how === 'guided') {
          for (const persistence of persistences) {
            for (const cooldown of cooldowns) {
              values[at++] = guidedCloseness(runs, times, persistence, cooldown, wanted);
            }
          }
          return;
        }
        for (let p = 0; p < persistences.length; p++) {
          for (let c = 0; c < cooldowns.length; c++, at++) {
            count = 0;
            march(runs, times, persistences[p]!, cooldowns[c]!, take);
            if (count < TOO_FEW * fired.length) {
              // Longer cooldowns fire less often.
              at += cooldowns.length - c;
              break;
            }
            values[at] = nearness(fired, predicted, count, tolerance);
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
}

/** How much one wrong trigger counts against a combination: by e to the power of this. */
export const STRICTNESS = 1.5;
/** The same where the times are held as exactly as they were told: nothing but luck is left that a wrong one could be. */
export const STRICTER = 3;
/** Of one trigger: combinations that are nearer than this to the best are as good. */
const AS_GOOD = 0.3;

/** How far below the best in closeness is still as good, where so many times were fired. */
export function slackFor(fired: number): number {
  return AS_GOOD / Math.max(1, fired);
}

/** How much a combination counts beside the best: its likelihood, 1 for the best. */
export function weightOf(value: number, most: number, fired: number, strictness = STRICTNESS): number {
  // One wrong trigger takes about half of 1 / fired from closeness.
  return Math.exp(2 * strictness * Math.max(1, fired) * (value - most));
}

/** Of how many cameras it is true that they wait for so many frames, beside those that wait for none: an assumption. */
export function commonness(persistence: number): number {
  return persistence ** -1.5;
}

/**
 * How well a description explains the times over all of its combinations, each as likely as it is beforehand (their likelihood summed, on
 * the scale of closeness): of two that come equally near at their best, the one that does so under more of them needs less luck.
 * @param pixels of its frames
 * @param most the closeness of its best
 * @param fired how many times there are
 */
export function support(
  { values, axes }: Scores,
  pixels: number,
  most: number,
  fired: number,
  strictness = STRICTNESS,
): number {
  const { levels, areas, persistences, cooldowns } = axes;
  const masses = massesOf(axes, pixels);
  let sum = 0;
  for (let index = 0; index < values.length; index++) {
    if (values[index]! === 0) continue;
    let rest = Math.floor(index / cooldowns.length);
    const persistence = persistences[rest % persistences.length]!;
    rest = Math.floor(rest / persistences.length);
    const mass =
      masses.areas[rest % areas.length]! * masses.levels[Math.floor(rest / areas.length) % levels.length]!;
    sum += mass * commonness(persistence) * weightOf(values[index]!, most, fired, strictness);
  }
  return sum === 0 ? 0 : most + onScale(Math.log(sum), fired, strictness);
}

/** A logarithm of likelihoods on the scale of closeness. */
export function onScale(log: number, fired: number, strictness = STRICTNESS): number {
  return log / (2 * strictness * Math.max(1, fired));
}

/**
 * Of the combinations as good as the best the one in the middle of those that count the same pixels and as many frames: never
 * their edge, for an edge is where the next clip falls off.
 */
export function middleOfBest(scores: Scores, fired: number, strictness = STRICTNESS): Best | null {
  const { values, axes } = scores;
  let most = 0;
  for (const value of values) if (value > most) most = value;
  if (most === 0) return null;
  const least = most - slackFor(fired);
  const groups = new Map<string, Group>();
  for (let index = 0; index < values.length; index++) {
    const own = values[index]!;
    if (own < most - WORTH_A_THOUGHT / Math.max(1, fired)) continue;
    const place = placeOf(scores, index);
    const key = `${place[0]} ${place[3]}`;
    const group = groups.get(key) ?? new Group();
    groups.set(key, group);
    const weight = commonness(axes.persistences[place[3]]!) * weightOf(own, most, fired, strictness);
    group.add(place, weight, own, own >= least);
  }
  const [heaviest] = [...groups.values()]
    .filter(({ good }) => good.length > 0)
    .sort((a, b) => b.weight - a.weight) as [Group];
  const { place, own } = heaviest.nearestToMiddle();
  return { place, values: valuesAt(axes, place), most, own };
}

/** Of triggers: combinations farther from the best weigh nothing. */
const WORTH_A_THOUGHT = 3;

/** Combinations of one kind and persistence, with the middle of their weight. */
class Group {
  weight = 0;
  readonly good: { place: Place; own: number }[] = [];
  private readonly sums = [0, 0, 0, 0, 0];

  add(place: Place, weight: number, own: number, isGood: boolean): void {
    this.weight += weight;
    for (const [axis, at] of place.entries()) this.sums[axis]! += weight * at;
    if (isGood) this.good.push({ place, own });
  }

  nearestToMiddle(): { place: Place; own: number } {
    const middle = this.sums.map((sum) => sum / this.weight);
    const distance = ({ place }: { place: Place }) =>
      place.reduce((sum, at, axis) => sum + (at - middle[axis]!) ** 2, 0);
    return this.good.reduce((a, b) => (distance(b) < distance(a) ? b : a));
  }
}
