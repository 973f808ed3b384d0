import type { Grid } from '../sweep/grid.js';
import { expectedOf } from '../tune/expected.js';
import type { Goal } from '../tune/goal.js';
import type { Pool } from '../tune/pool.js';
import type { Swept } from '../tune/tune.js';
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
  settingFor,
} from './evidence.js';
import { type Changed, gainOfWeek, isTellable, type WeekGain } from './gain.js';
import { type Kind, keyOfKind } from './kind.js';

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
  goal: Goal & { kind: 'worth' };
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

/** Hours that something can be caught in. */
export function isOfUse({ light }: Kind): boolean {
  return light === 'bright' || light === 'dim';
}

/**
 * Chooses one setting for all hours together, and a course of changing ones, each walk counted. Settings rest only on kinds
 * of hours with as many visits as tuning wants for dials of their own. For the others nobody is sent walking; in the one
 * setting, and in what changing gives, they count as all that was recorded.
 */
export function weekOf(input: WeekInput): Week {
  const { kinds, mayWalk, recommended, tooLittle, grid, goal, walkCost } = input;
  const resting = new Map(input.evidence.filter(mayRestOn).map((one) => [keyOfKind(one.kind), one]));
  const grounds = new Map([...resting].map(([key, one]) => [key, groundOf(one)]));
  const all = groundOfAll(input.recorded, input.evidence);
  const groundFor = (kind: Kind) => grounds.get(keyOfKind(kind)) ?? all;
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
  const hours = hoursByGround(used, groundFor);
  const one =
    hours.length === 1 && hours[0]!.ground === all
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
  const course = bestCourse(
    kinds.map((kind) => {
      if (!isOfUse(kind)) return nothing;
      const worth = worthIn.get(groundFor(kind))!;
      // Nobody is sent walking for hours that no dials of their own may rest on; they only say when to go, where it is level.
      return grounds.has(keyOfKind(kind)) ? worth : worth.map((value) => value * hardly);
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
      hoursByGround(
        kinds.filter((kind, hour) => isOfUse(kind) && course[hour] === setting),
        groundFor,
      ),
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

function hoursByGround(kinds: readonly Kind[], groundFor: (kind: Kind) => Ground): Changed[] {
  const hours = new Map<Ground, number>();
  for (const kind of kinds) hours.set(groundFor(kind), (hours.get(groundFor(kind)) ?? 0) + 1);
  return [...hours].map(([ground, n]) => ({ ground, hours: n }));
}

function poolsOf(of: readonly Changed[]): { pool: Pool; hours: number }[] {
  return of.map(({ ground: { pool }, hours }) => ({ pool, hours }));
}

/** What each setting is worth in an hour, in photos of nothing, by what its neighbourhood lets expect. */
function hourlyWorth(
  pool: Pool,
  settings: readonly number[],
  coming: Coming,
  grid: Grid,
  goal: Goal & { kind: 'worth' },
): Float64Array {
  const expected = expectedOf(pool, grid);
  const hours = pool.watchedSeconds / 3600;
  return Float64Array.from(settings, (setting) => {
    const recall = pool.visits > 0 ? expected.caught[setting]! / pool.visits : 0;
    const falsePerHour = hours > 0 ? expected.falseTriggers[setting]! / hours : 0;
    return (recall * coming.visits * goal.photos) / coming.hours - falsePerHour * goal.photosPerTrigger;
  });
}
