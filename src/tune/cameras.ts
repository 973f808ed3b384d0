import { boutBalances } from '../score/bouts.js';
import { type Difference, rateDifference } from '../score/paired-difference.js';
import type { Goal } from './goal.js';
import { pairVisits, type VisitOf } from './paired-visits.js';
import { FEWEST_TO_TELL } from './tells.js';

/** What a camera took under some settings of a clip, or of a block of time of it. */
export interface Photographed {
  /** In the order of the labels: the same visits for every camera. */
  visits: { visit: VisitOf; caught: boolean }[];
  /** Times of its photos of nothing, each that of its trigger, seconds; rising. */
  nothing: number[];
  watchedHours: number;
}

/** Another camera held against the first, over the same footage. */
export interface AgainstFirst {
  /** Visits that only the other catches, and that only the first does. */
  gained: VisitOf[];
  lost: VisitOf[];
  /** What the other adds: to recall, and to photos of nothing an hour; 90 %. Null without visits, or nothing watched. */
  recall: Difference | null;
  nothingPerHour: Difference | null;
  /**
   * What it adds by the goal, as a share of the visits: where settings are chosen by worth, visits less what its photos of nothing
   * come to; else recall.
   */
  given: Difference | null;
}

/**
 * better, worse: by the goal, the whole interval says so. as good: it may be worse by one visit in ten at most. over the allowance: it
 * takes more photos of nothing for certain, and more than are to be had.
 */
export const cameraVerdicts = [
  'better',
  'as good',
  'worse',
  'over the allowance',
  'too little to tell',
] as const;
export type CameraVerdict = (typeof cameraVerdicts)[number];

/** What another camera may give less and still be called as good: one visit in ten. */
export const AS_GOOD = 0.1;

/** Holds another camera against the first, unit by unit: the same clips or blocks of both. */
export function againstFirst(
  first: readonly Photographed[],
  other: readonly Photographed[],
  goal: Goal,
): AgainstFirst {
  const pairs = first.flatMap(({ visits }, unit) =>
    visits.map(({ visit, caught }, i) => ({
      visit,
      before: caught,
      after: other[unit]?.visits[i]?.caught === true,
    })),
  );
  const { gained, lost, recall } = pairVisits(pairs);
  const hours = sum(first.map(({ watchedHours }) => watchedHours));
  const balances = first.flatMap(({ nothing }, unit) => boutBalances(other[unit]?.nothing ?? [], nothing));
  const nothingPerHour = rateDifference(balances, hours);
  const each = goal.kind === 'worth' && pairs.length > 0 ? hours / pairs.length / goal.photos : 0;
  return {
    gained: gained.map(({ visit }) => visit),
    lost: lost.map(({ visit }) => visit),
    recall,
    nothingPerHour,
    given: givenOf(recall, nothingPerHour, each),
  };
}

/**
 * Recall less photos of nothing an hour at a price. The two intervals are squared and added, as if the two differences came
 * independently (Zou & Donner 2008, Statistics in Medicine 27:1693-1702, from memory).
 * @param price of one more an hour, as a share of the visits
 */
function givenOf(recall: Difference | null, nothing: Difference | null, price: number): Difference | null {
  if (!recall) return null;
  if (!nothing || price === 0) return recall;
  const value = recall.value - price * nothing.value;
  const down = Math.hypot(recall.value - recall.low, price * (nothing.high - nothing.value));
  const up = Math.hypot(recall.high - recall.value, price * (nothing.value - nothing.low));
  return { value, low: value - down, high: value + up };
}

/**
 * Whether another camera serves better than the first.
 * @param taken photos of nothing that it took there
 */
export function cameraVerdict(
  { nothingPerHour, given }: AgainstFirst,
  visits: number,
  goal: Goal,
  taken: { nothingPerHour: number | null; photosPerTrigger: number },
): CameraVerdict {
  if (!given || visits < FEWEST_TO_TELL) return 'too little to tell';
  const allowed = goal.kind === 'allowance' ? goal.falsePerHour * taken.photosPerTrigger : null;
  const isOver = allowed !== null && (taken.nothingPerHour ?? 0) > allowed + 1e-9;
  if (isOver && nothingPerHour && nothingPerHour.low > 0) return 'over the allowance';
  if (given.low > 0) return 'better';
  if (given.high < 0) return 'worse';
  return given.low >= -AS_GOOD ? 'as good' : 'too little to tell';
}

/**
 * A verdict where not all that the dials give was tried with one of the two: what was left out might have been better.
 * @param tried whether all was, with either
 */
export function asFarAsTried(
  verdict: CameraVerdict,
  tried: { first: boolean; other: boolean },
): CameraVerdict {
  const isForOther = verdict === 'better' || verdict === 'as good';
  return (isForOther ? tried.first : tried.other) ? verdict : 'too little to tell';
}

/** What some footage gave, added up. */
export interface Taken {
  visits: number;
  caught: number;
  /** Photos; null: nothing was watched. */
  nothingPerHour: number | null;
}

export function takenOf(units: readonly Photographed[]): Taken {
  const visits = units.flatMap((unit) => unit.visits);
  const hours = sum(units.map(({ watchedHours }) => watchedHours));
  return {
    visits: visits.length,
    caught: visits.filter(({ caught }) => caught).length,
    nothingPerHour: hours > 0 ? sum(units.map(({ nothing }) => nothing.length)) / hours : null,
  };
}

/** Footage that was left out, and what each camera promised on all the rest. */
export interface Promised {
  /** By the goal, camera by camera, the first camera first. */
  given: readonly number[];
  /** What each then took of it, with the settings chosen without it. */
  photographed: readonly Photographed[];
}

/**
 * What comes of choosing a camera: for each piece of footage left out the camera is chosen that promises most on all the rest,
 * the earliest of several, and what it took of that piece is what counts. The best of several cameras on any footage is partly
 * luck, and the more there are to choose from the more so: what was chosen without a piece does not profit from it.
 */
export function chosenAnew(units: readonly Promised[]): {
  photographed: Photographed[];
  /** How often each camera was chosen. */
  times: number[];
} {
  const times = (units[0]?.given ?? []).map(() => 0);
  const photographed = units.map(({ given, photographed: on }) => {
    const best = bestOf(given);
    times[best]!++;
    return on[best]!;
  });
  return { photographed, times };
}

/** The place of the highest, the earliest of several. */
export function bestOf(given: readonly number[]): number {
  return given.reduce((best, value, i) => (value > given[best]! ? i : best), 0);
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
