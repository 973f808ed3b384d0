import type { AreaKind } from '../../sweep/columns.js';

/** The values that are tried of one description, each rising. */
export interface Axes {
  kinds: readonly AreaKind[];
  /** Whole levels; a threshold means the next one up. */
  levels: readonly number[];
  /** Pixels. */
  areas: readonly number[];
  /** Frames. */
  persistences: readonly number[];
  /** Seconds. */
  cooldowns: readonly number[];
}

const KINDS: readonly AreaKind[] = ['region', 'changed'];

/** Whole numbers from `from` to `to`, each at least `ratio` times the one before. */
export function risingBy(ratio: number, from: number, to: number): number[] {
  const values: number[] = [];
  for (let x = from; x <= to; ) {
    values.push(x);
    x = Math.max(x + 1, Math.round(x * ratio));
  }
  return values;
}

/** Grey levels: below is the noise of any sensor. */
export const FLOOR = 3;
/** The highest level worth trying: hardly anything outdoors stands out by more. */
const HIGHEST_LEVEL = 160;
/** Of the frame; who asks for more never fires at an animal. */
const LARGEST_SHARE = 0.5;

/** Few values, to tell which descriptions come near at all. */
export function coarseAxes(floor: number, pixels: number, cooldowns: readonly number[]): Axes {
  return {
    kinds: KINDS,
    levels: risingBy(1.25, floor, HIGHEST_LEVEL),
    areas: risingBy(1.5, 1, pixels * LARGEST_SHARE),
    persistences: [1, 2, 3, 5],
    cooldowns,
  };
}

/** Many, some way around some values, to tell where within a description the camera stands. */
export function fineAxes(
  { level, area, persistence }: Around,
  floor: number,
  pixels: number,
  cooldowns: readonly number[],
): Axes {
  const highest = Math.min(HIGHEST_LEVEL, 2 * level + 2);
  const largest = Math.min(pixels * LARGEST_SHARE, 4 * area + 4);
  return {
    kinds: KINDS,
    levels: risingBy(1.07, Math.max(floor, Math.floor(level / 2)), highest),
    areas: risingBy(1.12, Math.max(1, Math.floor(area / 4)), largest),
    persistences: [persistence - 1, persistence, persistence + 1].filter((one) => one >= 1),
    cooldowns,
  };
}

/** Values that others are tried around. */
export interface Around {
  level: number;
  area: number;
  persistence: number;
}

/** A combination that others are tried around. */
type Middle = Around & { kind: AreaKind };

/** How far around some values others are tried, and in which steps (each at least so many times the one before). */
interface Reach {
  levels: readonly [from: number, to: number];
  levelStep: number;
  areas: readonly [from: number, to: number];
  areaStep: number;
  persistences: readonly number[];
}

/** Steps between which hardly any camera fires otherwise; each value where these are less than one. */
const DENSE = { levels: 1.02, areas: 1.012 };

/** What lies above a value in the same steps, so many times as far and up to a last one; none where that is the last. */
export function denselyAbove(what: keyof typeof DENSE, value: number, times: number, last: number): number[] {
  return risingBy(DENSE[what], value, Math.min(last, Math.ceil(times * value))).slice(1);
}

/** What lies below a value, rising. */
export function denselyBelow(
  what: keyof typeof DENSE,
  value: number,
  times: number,
  first: number,
): number[] {
  return risingBy(DENSE[what], Math.max(first, Math.floor(value / times)), value - 1);
}

/** In such steps, as far around some values as what does as well usually reaches. */
export function denseAxes(
  middle: Middle,
  floor: number,
  pixels: number,
  persistences: readonly number[],
  cooldowns: readonly number[],
): Axes {
  const { level, area } = middle;
  const reach: Reach = {
    levels: [level / 1.4, level * 1.4],
    levelStep: DENSE.levels,
    areas: [area / 1.7, area * 1.7],
    areaStep: DENSE.areas,
    persistences,
  };
  return reaching(reach, middle, floor, pixels, cooldowns);
}

/** Closely around some values, where what explains the times may be narrow. */
export function closeAxes(middle: Middle, floor: number, pixels: number, cooldowns: readonly number[]): Axes {
  const { level, area, persistence } = middle;
  const reach: Reach = {
    levels: [level - 3, level + 3],
    levelStep: 1,
    areas: [area * 0.8, area * 1.25],
    areaStep: 1.015,
    persistences: [persistence],
  };
  return reaching(reach, middle, floor, pixels, cooldowns);
}

/** All around some values. */
export function axesAround(
  middle: Middle,
  floor: number,
  pixels: number,
  cooldowns: readonly number[],
): Axes {
  const { level, area, persistence } = middle;
  const reach: Reach = {
    levels: [level / 1.35, level * 1.35],
    levelStep: 1.03,
    areas: [area / 1.7, area * 1.7],
    areaStep: 1.06,
    persistences: [persistence - 1, persistence, persistence + 1].filter((one) => one >= 1),
  };
  return reaching(reach, middle, floor, pixels, cooldowns);
}

function reaching(
  { levels, levelStep, areas, areaStep, persistences }: Reach,
  { kind }: Middle,
  floor: number,
  pixels: number,
  cooldowns: readonly number[],
): Axes {
  return {
    kinds: [kind],
    levels: risingBy(levelStep, Math.max(floor, Math.floor(levels[0])), Math.min(255, Math.ceil(levels[1]))),
    areas: risingBy(areaStep, Math.max(1, Math.floor(areas[0])), Math.min(pixels, Math.ceil(areas[1]))),
    persistences,
    cooldowns,
  };
}

/** The fewest, to tell only whether a description can be meant at all. */
export function fewestAxes(floor: number, pixels: number, cooldowns: readonly number[]): Axes {
  return { ...coarseAxes(floor, pixels, cooldowns.slice(-FEW_COOLDOWNS)), persistences: [1, 2] };
}

const FEW_COOLDOWNS = 3;

/** Seconds that people who build cameras choose. */
const ROUND = [
  0, 0.5, 1, 1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 7, 8, 9, 10, 12, 15, 18, 20, 25, 30, 40, 45, 50, 60, 75, 90,
  100, 120, 150, 180, 240, 300, 450, 600, 900, 1200, 1800, 3600,
];
const MOST_COOLDOWNS = 12;
/** Of them those that are usual, and so many of the longest: where something keeps firing it, the longest is meant. */
const USUAL = [0, 2, 5, 10];
const LONGEST = 3;

/**
 * Cooldowns that may be meant: none can be longer than the shortest gap between fired times.
 * @param times rising
 * @param slack seconds by which a gap may seem shorter than it was
 * @param frame seconds from one frame to the next
 * @param offered what the camera's dial offers; empty: anything
 */
export function cooldownsFor(
  times: ArrayLike<number>,
  slack: number,
  frame: number,
  offered: readonly number[],
): number[] {
  let gap = Number.POSITIVE_INFINITY;
  for (let i = 1; i < times.length; i++) gap = Math.min(gap, times[i]! - times[i - 1]!);
  const most = gap + slack;
  if (offered.length > 0) {
    const possible = offered.filter((cooldown) => cooldown <= most).sort((a, b) => a - b);
    return possible.length > 0 ? possible : [Math.min(...offered)];
  }
  const round = ROUND.filter((cooldown) => cooldown <= most);
  // Of those that nothing tells apart the round one is meant.
  const isBetween = gap < Number.POSITIVE_INFINITY && gap - frame > (round.at(-1) ?? 0) + ROUND_ENOUGH;
  return [...spread(round), ...(isBetween ? [Number((gap - frame).toFixed(2))] : [])];
}

/** A few of many, from the least to the most: where visits are rare nothing tells a short cooldown from a long one. */
function spread(all: readonly number[]): number[] {
  if (all.length <= MOST_COOLDOWNS) return [...all];
  const isKept = (one: number) => USUAL.includes(one) || all.indexOf(one) >= all.length - LONGEST;
  const others = all.filter((one) => !isKept(one));
  const step = others.length / (MOST_COOLDOWNS - (all.length - others.length));
  return all.filter((one) => {
    const at = others.indexOf(one);
    return at === -1 || Math.floor((at + 1) / step) > Math.floor(at / step);
  });
}

/** Seconds from a round cooldown within which no other one is tried. */
const ROUND_ENOUGH = 0.6;
