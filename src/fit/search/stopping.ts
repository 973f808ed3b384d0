import type { ColumnSource } from '../../sweep/columns.js';
import { type Clock, setRight } from '../fired/clock.js';
import type { Wanted } from '../fired/wanted.js';
import { exactCloseness, lateness, type Tolerance } from '../score/agreement.js';
import { massesOf } from '../score/plausible.js';
import {
  commonness,
  onScale,
  STRICTER,
  STRICTNESS,
  slackFor,
  type Values,
  weightOf,
} from '../score/scores.js';
import { type Axes, risingBy } from './axes.js';
import { branches, CLOCK_OPEN, type Reach } from './branching.js';
import { busyBy } from './busy.js';
import type { Look } from './look.js';
import { cameraOf, type Looking } from './looking.js';
import type { Reckoning } from './reckoning.js';
import { FIRMNESS, priceOf, type Tried } from './tried.js';

/** Cooldowns under which references that depend on triggers are followed. */
const MOST_FOLLOWED = 2;

/**
 * The longest cooldowns that may be meant, for a camera that something keeps firing waits no longer than that. A gap told in whole
 * seconds is never shorter than the whole seconds of the true one: one of 4 s was shorter than 5.
 * @param cooldowns rising
 * @param times as told, rising
 */
export function longestMeant(
  cooldowns: readonly number[],
  times: readonly number[],
  quantum: number,
  frame: number,
): number[] {
  const gap = Math.min(...times.slice(1).map((time, i) => time - times[i]!));
  const above = cooldowns.filter((cooldown) => cooldown > 0);
  const meant = above.filter((cooldown) => (quantum > frame ? cooldown < gap + quantum - 1e-6 : true));
  return (meant.length > 0 ? meant : above).slice(-MOST_FOLLOWED);
}

/** Values of a camera whose reference depends on its own triggers, with what it then fires. */
export interface ByItself {
  values: Values;
  predicted: number[];
  /** As in Scores. */
  close: number;
  /** How likely the values are beforehand. */
  mass: number;
}

/** A description whose reference stops while busy, with all values that come near. */
export interface Stopped extends Tried {
  all: readonly ByItself[];
}

/** The highest level and, of the frame, the largest area that are followed. */
const HIGHEST = 120;
const LARGEST = 0.2;
/** How far around some values others are followed: levels, areas. */
const LEVELS = 1.6;
const AREAS = 2.5;
/** Wide steps, for what is followed so shares its course with what lies beside it; and narrow ones. */
const WIDE = { level: 1.06, area: 1.08, persistences: [1, 2, 3, 5] };
const NARROW = { level: 1.02, area: 1.012 };

/** All values worth following, in wide steps. */
export function allAxes(floor: number, pixels: number): Omit<Axes, 'cooldowns'> {
  return {
    kinds: ['region', 'changed'],
    levels: risingBy(WIDE.level, floor, HIGHEST),
    areas: risingBy(WIDE.area, 1, pixels * LARGEST),
    persistences: WIDE.persistences,
  };
}

/** Those around some, in wide steps or narrow ones. */
export function followedAround(
  { kind, level, area, persistence }: Omit<Values, 'cooldown'>,
  floor: number,
  isNarrow: boolean,
): Omit<Axes, 'cooldowns'> {
  const by = isNarrow ? NARROW : WIDE;
  const [levels, areas] = isNarrow ? [1.25, 1.4] : [LEVELS, AREAS];
  const from = Math.max(floor, Math.floor(level / levels));
  return {
    kinds: isNarrow ? [kind] : ['region', 'changed'],
    levels: risingBy(by.level, from, Math.min(255, Math.max(from, Math.ceil(level * levels)))),
    areas: risingBy(by.area, Math.max(1, Math.floor(area / areas)), Math.ceil(area * areas)),
    persistences: [persistence - 1, persistence, persistence + 1].filter((one) => one >= 1),
  };
}

/** Of the told times that lie on the clip by the clock so far: so many must do so by another. */
const MOST_STAY = 0.9;

/** By what a description is followed. */
export interface Following {
  cooldowns: readonly number[];
  /** The best clock so far; of rounded times a description may suit another. */
  clock: Clock;
  wantedAt: (clock: Clock) => Wanted;
  /**
   * All told times by the clock, also those that then lie beside the clip, and how much later they may lie: where something keeps firing the
   * camera nearly any clock will do for some description that goes on, so that none of them tells. Null: the clock is right but for some frames.
   */
  anywhere: { fired: Float64Array; reach: Reach } | null;
}

/**
 * Holds a description whose reference stops while busy against the fired times, by what it fires itself.
 * @returns null where nothing comes near them
 */
export async function holdStopped(
  look: Look,
  axes: Omit<Axes, 'cooldowns'>,
  { cooldowns, clock, wantedAt, anywhere }: Following,
  looking: Looking,
  reckoning: Reckoning,
): Promise<Stopped | null> {
  const near = wantedAt(clock);
  const wide = widened(near.tolerance);
  const masses = massesOf(axes, look.width * look.height);
  const mass = new Map(
    axes.levels.flatMap((level, l) =>
      axes.areas.map((area, a) => [`${level} ${area}`, masses.levels[l]! * masses.areas[a]!] as const),
    ),
  );
  const reach = anywhere && staying(anywhere, near, wide.most);
  const all: (ByItself & { clock: Clock })[] = [];
  for (const cooldown of cooldowns) {
    const found = await branches(
      look,
      looking.maskAt(cameraOf(look, looking.rate)),
      looking.framesAt(look).from(0),
      looking.times,
      { ...axes, cooldowns: [cooldown] },
      anywhere ? { ...near, fired: anywhere.fired } : near,
      reach,
      (compared) => reckoning.compared(compared, look, 1),
    );
    for (const { predicted, values } of found) {
      const shift = anywhere ? predicted[0]! - anywhere.fired[0]! : 0;
      const begun = { ...clock, offset: clock.offset - shift };
      const own = setRight(begun, lateness(wantedAt(begun).fired, predicted, wide));
      const { fired } = wantedAt(own);
      // Times that lie beside the clip count for nothing: no clock is better for putting them there.
      if (fired.length < MOST_STAY * near.fired.length) continue;
      const close = exactCloseness(fired, predicted, predicted.length, wide);
      for (const one of values) {
        const likely = commonness(one.persistence) * mass.get(`${one.level} ${one.area}`)!;
        all.push({ values: one, predicted, close, mass: likely, clock: own });
      }
    }
  }
  if (all.length === 0) return null;
  const { length } = near.fired;
  const best = middleOf(all, length);
  const busy = busyBy(looking.times, Float64Array.from(best.predicted), stopsOf(look), best.values.cooldown);
  const firm = supportOf(all, length, STRICTNESS) - best.close;
  return {
    look,
    busy,
    source: whenAsked(() => looking.at([{ look, busy }], axes.levels[0]!)),
    best: { place: [0, 0, 0, 0, 0], values: best.values, most: mostOf(all), own: best.close },
    clock: best.clock,
    worth: best.close + FIRMNESS * firm - priceOf(look, slackFor(length)),
    all,
  };
}

/**
 * Of how much later the told times may lie, that by which enough of them stay on the clip: what begins elsewhere would be followed for nothing.
 * @param open seconds by which a clock may yet be set right
 */
function staying(
  { fired, reach }: NonNullable<Following['anywhere']>,
  { fired: { length }, tolerance, from, to }: Wanted,
  open: number,
): Reach {
  const stay = Math.min(fired.length, Math.ceil(MOST_STAY * length));
  if (stay === 0) return reach;
  const beside = tolerance.most + open;
  return {
    least: Math.max(reach.least, from - beside - fired[fired.length - stay]!),
    most: Math.min(reach.most, to + beside - fired[stay - 1]!),
  };
}

/** Of those as near as the best the one nearest to the middle of what counts the same pixels and as many frames. */
export function middleOf<T extends ByItself>(all: readonly T[], fired: number): T {
  const most = mostOf(all);
  const weight = ({ close, mass }: T) => mass * weightOf(close, most, fired, STRICTER);
  const groups = new Map<string, { all: T[]; weight: number }>();
  for (const one of all) {
    const key = `${one.values.kind} ${one.values.persistence}`;
    const group = groups.get(key) ?? { all: [], weight: 0 };
    groups.set(key, group);
    group.all.push(one);
    group.weight += weight(one);
  }
  const isAlike = ({ close }: T) => close >= most - slackFor(fired);
  const [heaviest] = [...groups.values()]
    .filter((group) => group.all.some(isAlike))
    .sort((a, b) => b.weight - a.weight);
  const { all: own, weight: whole } = heaviest!;
  const at = ({ values: { level, area, cooldown } }: ByItself) => [
    Math.log(level),
    Math.log(area),
    Math.log1p(cooldown),
  ];
  const middle = [0, 1, 2].map(
    (axis) => own.reduce((sum, one) => sum + weight(one) * at(one)[axis]!, 0) / whole,
  );
  const distance = (one: ByItself) => at(one).reduce((sum, x, axis) => sum + (x - middle[axis]!) ** 2, 0);
  return own.filter(isAlike).reduce((a, b) => (distance(b) < distance(a) ? b : a));
}

export function mostOf(all: readonly ByItself[]): number {
  return all.reduce((most, { close }) => Math.max(most, close), 0);
}

/** As `support` of what goes on. */
export function supportOf(all: readonly ByItself[], fired: number, strictness: number): number {
  const most = mostOf(all);
  const sum = all.reduce((so, { close, mass }) => so + mass * weightOf(close, most, fired, strictness), 0);
  return most + onScale(Math.log(sum), fired, strictness);
}

function widened(tolerance: Tolerance): Tolerance {
  return tolerance.span === null ? tolerance : { ...tolerance, most: tolerance.most + CLOCK_OPEN };
}

function stopsOf({ whileBusy }: Look): 'frozen' | 'restarts' {
  if (whileBusy === 'continues') throw new RangeError('a reference that goes on depends on no triggers');
  return whileBusy;
}

/** Evidence that is measured when it is first asked for. */
function whenAsked(measure: () => Promise<ColumnSource[]>): ColumnSource {
  let measured: Promise<ColumnSource[]> | null = null;
  const source = async () => {
    measured ??= measure();
    return (await measured)[0]!;
  };
  return {
    columns: async (levels, kind) => (await source()).columns(levels, kind),
    bothColumns: async (levels) => (await source()).bothColumns(levels),
  };
}
