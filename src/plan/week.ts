import type { Grid } from '../sweep/grid.js';
import { expectedOf } from '../tune/expected.js';
import type { Pool } from '../tune/pool.js';
import type { Swept } from '../tune/site-result.js';
import { turnedBack } from '../tune/turn-back.js';
import { bestCourse, changesIn } from './course.js';
import {
  type Coming,
  comingOf,
  type Evidence,
  type Ground,
  groundOf,
  groundOfAll,
  mayRestOn,
  type PartOfMix,
  settingFor,
} from './evidence.js';
import { type Changed, gainOfWeek, isTellable, type WeekGain } from './gain.js';
import { type Kind, keyOfKind } from './kind.js';
import { type PlanGoal, worthBy } from './plan-goal.js';

export interface WeekInput {
  /** Of each hour, in order. */
  kinds: readonly Kind[];
  /** Of each hour, whether somebody may walk to the camera when it begins. */
  mayWalk: readonly boolean[];
  evidence: readonly Evidence[];
  /** What all that was recorded shows, clip by clip. */
  recorded: readonly Swept[];
  /** What tuning recommends for all weather, by its number in the grid. */
  recommended: number;
  /** Whether too little was recorded to choose anything but that. */
  tooLittle: boolean;
  grid: Grid;
  goal: PlanGoal;
  /** What a walk costs, in photos of nothing. */
  walkCost: number;
}

/** The settings for the coming days. */
export interface Week {
  /** One setting for all hours. */
  one: number;
  /** Changing settings: of each hour, the one in force; in hours too dark whatever was. */
  course: number[];
  /** Hours at whose beginning a walk changes them. */
  walks: number[];
  /** For the settings used: the hours that each was chosen for, by what is known of them. */
  chosenFor: ReadonlyMap<number, readonly Changed[]>;
  /** What is known of hours of a kind as far as settings may rest on it. */
  groundFor(kind: Kind): Ground;
  /** What the walks buy; null: no walks, or too little to tell. */
  gain: WeekGain | null;
  /** Whether that is worth the walks, surely enough (90 %). */
  worthIt: boolean;
}

/** Far less than a walk costs, and more than rounding; as a share of it. */
const HARDLY = 1e-6;
/** Photos of nothing: where a walk costs nothing, nobody is sent for nothing all the same. */
const LEAST_COST = 1e-3;
/** How much more than all that walks can bring it weighs to break an allowance for an hour. */
const BREAKING = 1000;

/** Hours that something can be caught in. */
export function isOfUse({ light }: Kind): boolean {
  return light === 'bright' || light === 'dim';
}

/**
 * Chooses one setting for all hours together, and a course of changing ones, each walk counted. Settings rest only on kinds
 * of hours with as many visits as tuning wants for dials of their own. For the others nobody is sent walking; in the one
 * setting, and in what changing gives, they count as all that was recorded. An allowance is kept in the hours of every kind,
 * as far as there are settings that do: false triggers can be counted where visits are too few.
 */
export function weekOf(input: WeekInput): Week {
  const { kinds, mayWalk, recommended, tooLittle, grid, goal, walkCost } = input;
  const resting = new Map(input.evidence.filter(mayRestOn).map((one) => [keyOfKind(one.kind), one]));
  const grounds = new Map([...resting].map(([key, one]) => [key, groundOf(one)]));
  const all = groundOfAll(input.recorded, input.evidence);
  const groundFor = (kind: Kind) => grounds.get(keyOfKind(kind)) ?? all;
  const bounds = new Map(
    input.evidence
      .filter((one) => !mayRestOn(one))
      .map((one): [string, Ground] => [keyOfKind(one.kind), groundOf(one)]),
  );
  const hoursOf = (some: readonly Kind[]) => hoursByGround(some, groundFor, bounds);
  const stay = (one: number, hours: readonly Changed[]): Week => ({
    chosenFor: new Map([[one, hours]]),
    groundFor,
    one,
    course: kinds.map(() => one),
    walks: [],
    gain: null,
    worthIt: false,
  });
  const used = kinds.filter(isOfUse);
  if (tooLittle || used.length === 0) return stay(recommended, []);
  const coming = comingOf(all.pool);
  const hours = hoursOf(used);
  const one =
    hours.length === 1 && hours[0]!.ground === all && (goal.kind === 'worth' || hours[0]!.bounds.length === 0)
      ? recommended
      : settingFor(poolsOf(hours), coming, grid, goal);
  const owns = [...resting.values()].map(({ kind, parts }) =>
    turnedBack(
      settingFor([{ pool: groundFor(kind).pool, hours: 1 }], coming, grid, goal),
      one,
      parts.map(({ whole }) => whole),
      grid,
    ),
  );
  const states = [...new Set([one, recommended, ...owns])];
  const worthIn = new Map(
    hours.map(({ ground }) => [ground, hourlyWorth(ground.pool, states, coming, grid, goal)]),
  );
  const nothing = new Float64Array(states.length);
  // All such hours together are worth less than one walk, whatever that costs.
  const most = kinds.reduce(
    (sum, kind) => sum + (isOfUse(kind) ? rangeOf(worthIn.get(groundFor(kind))!) : 0),
    0,
  );
  const cost = Math.max(walkCost, LEAST_COST);
  const hardly = (HARDLY * cost) / Math.max(1, most);
  const breaking = BREAKING * (cost + most);
  const course = bestCourse(
    kinds.map((kind) => {
      if (!isOfUse(kind)) return nothing;
      const worth = worthIn.get(groundFor(kind))!;
      const breaks = breaksIn([groundFor(kind), bounds.get(keyOfKind(kind)) ?? []].flat(), states, goal);
      // Nobody is sent walking for hours that no dials of their own may rest on; they only say when to go, where it is level.
      const share = grounds.has(keyOfKind(kind)) ? 1 : hardly;
      return worth.map((value, state) => value * share - (breaks[state] ? breaking : 0));
    }),
    mayWalk,
    cost,
  ).map((state) => states[state]!);
  const walks = changesIn(course);
  if (walks.length === 0) {
    // A course without a walk is one setting for all, and the best of those is the one.
    return stay(one, hours);
  }
  const groups = states
    .filter((setting) => setting !== one)
    .map((setting): [number, Changed[]] => [
      setting,
      hoursOf(kinds.filter((kind, hour) => isOfUse(kind) && course[hour] === setting)),
    ])
    .filter(([, group]) => group.length > 0);
  // What cannot be tried on footage left out does not speak for walking either: there the one is chosen by what was recorded.
  const against = hours.map((one) => (isTellable(one.ground) ? one : { ...one, ground: all }));
  const gain = gainOfWeek({ all: against, groups: groups.map(([, group]) => group), coming, grid, goal });
  const worthIt = gain !== null && gain.worth.low - walkCost * walks.length > 0;
  const chosenFor = new Map<number, readonly Changed[]>([[one, hours], ...groups]);
  return { one, course, walks, chosenFor, groundFor, gain, worthIt };
}

function rangeOf(values: Float64Array): number {
  return Math.max(...values) - Math.min(...values);
}

function hoursByGround(
  kinds: readonly Kind[],
  groundFor: (kind: Kind) => Ground,
  boundsOf: ReadonlyMap<string, Ground>,
): Changed[] {
  const found = new Map<Ground, { hours: number; bounds: Set<Ground> }>();
  for (const kind of kinds) {
    const { hours, bounds } = found.get(groundFor(kind)) ?? { hours: 0, bounds: new Set() };
    const bound = boundsOf.get(keyOfKind(kind));
    if (bound) bounds.add(bound);
    found.set(groundFor(kind), { hours: hours + 1, bounds });
  }
  return [...found].map(([ground, { hours, bounds }]) => ({ ground, hours, bounds: [...bounds] }));
}

function poolsOf(of: readonly Changed[]): PartOfMix[] {
  return of.map(({ ground: { pool }, hours, bounds }) => ({
    pool,
    hours,
    bounds: bounds.map((one) => one.pool),
  }));
}

/** Which settings break an allowance in hours that some grounds tell of, though others of them do not, or by less. */
function breaksIn(grounds: readonly Ground[], settings: readonly number[], goal: PlanGoal): boolean[] {
  if (goal.kind === 'worth') return settings.map(() => false);
  const rates = settings.map((setting) =>
    Math.max(0, ...grounds.map(({ pool }) => falsePerHourIn(pool, setting))),
  );
  const limit = Math.max(goal.falsePerHour, Math.min(...rates));
  return rates.map((rate) => rate > limit + 1e-9);
}

function falsePerHourIn({ falseTriggers, watchedSeconds }: Pool, setting: number): number {
  return watchedSeconds > 0 ? falseTriggers[setting]! / (watchedSeconds / 3600) : 0;
}

/** What each setting is worth in an hour, in photos of nothing, by what its neighbourhood lets expect. */
function hourlyWorth(
  pool: Pool,
  settings: readonly number[],
  coming: Coming,
  grid: Grid,
  goal: PlanGoal,
): Float64Array {
  const expected = expectedOf(pool, grid);
  const hours = pool.watchedSeconds / 3600;
  return Float64Array.from(settings, (setting) => {
    const recall = pool.visits > 0 ? expected.caught[setting]! / pool.visits : 0;
    const falsePerHour = hours > 0 ? expected.falseTriggers[setting]! / hours : 0;
    return worthBy(goal, (recall * coming.visits) / coming.hours, falsePerHour * goal.photosPerTrigger);
  });
}
