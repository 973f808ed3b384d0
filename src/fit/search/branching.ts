import { meterForMany } from '../../engine/compiled/meter.js';
import { createReference, type Reference } from '../../engine/reference.js';
import { smooth } from '../../engine/smooth.js';
import { TIME_TOLERANCE } from '../../engine/triggers.js';
import type { Wanted } from '../fired/wanted.js';
import { SAME, type Tolerance } from '../score/agreement.js';
import type { Values } from '../score/scores.js';
import type { Axes } from './axes.js';
import type { Look } from './look.js';

/** What fires under all of some values alike, by itself. */
export interface Branch {
  /** Seconds, rising. */
  predicted: number[];
  /** At least one. */
  values: Values[];
}

/** One course of triggers, while it is followed. */
interface Course {
  reference: Reference;
  /** The combinations that have fired so, by their places, rising. */
  own: Uint32Array;
  /** Of each of them: active frames in a row. */
  run: Uint8Array;
  fired: number[];
  idleAt: number;
  isRestarting: boolean;
  /** Fired times that were met or missed. */
  passed: number;
  wrong: number;
  /** Seconds by which the fired times are taken to be later; null: not known until it fires first. */
  shift: number | null;
  /** Of those that were met: how much later they are told than fired, at least and at most. */
  late: readonly [least: number, most: number];
}

/** By how many seconds fired times may lie later than they are taken to. */
export interface Reach {
  least: number;
  most: number;
}

/**
 * Courses that are followed side by side, for each costs as much as a camera. At the beginning hundreds are wrong nowhere; the right one is
 * often narrow, but seldom uneven (`unevenBy`).
 */
const MOST_COURSES = 24;
/** Beside these where each has a clock of its own, of which there are some thirty at once. */
const MOST_BY_CLOCKS = 48;
/** Wrong triggers after which a course is given up, and beside these of the fired times or, with a clock of its own, of those met or missed by then. */
const WRONG = 3;
const WRONG_SHARE = 0.1;
/** Seconds beyond the tolerance of times that are rounded: a course may suit a clock that is some frames off. */
export const CLOCK_OPEN = 0.4;

/**
 * What a camera whose reference depends on its triggers fires by itself, under all values at once and exactly: as long as all of them fire
 * at the same frames they see the same reference, so that one course serves them all. Where some fire and others do not the course parts in two.
 * Courses that fire otherwise than the camera did are given up, which leaves few: what is busy compares nothing. Where more than
 * MOST_COURSES are left, those go that are wrong most often, of these the most uneven, and of these the narrowest: what is right may be among them.
 * Where each has a clock of its own the likeliest of each clock stay as well, for one that began later is wrong less often only because less was asked of it.
 * @param frames luminance at the size of the look, one for each of `times`
 * @param axes with one cooldown
 * @param reach null: the fired times are those of the clip, but for some frames; else they may lie so much later, and the first of them is what a
 *   course fires first
 * @returns courses that are left at the end; none where nothing comes near
 */
export async function branches(
  { width, height, smooth: radius, reference, whileBusy }: Look,
  mask: Uint8Array | null,
  frames: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
  times: Float64Array,
  axes: Axes,
  { fired, tolerance, from, to }: Wanted,
  reach: Reach | null = null,
  onFrame: (compared: number) => void = () => undefined,
): Promise<Branch[]> {
  const { levels, cooldowns } = axes;
  const [cooldown] = cooldowns as [number];
  const pixels = width * height;
  const meter = meterForMany(width, height, levels[0]);
  const difference = new Uint8Array(pixels);
  const smoothed = new Uint8Array(pixels);
  const all = combinationsOf(axes);
  const byClocks = reach === null ? 0 : MOST_BY_CLOCKS;
  // A clock that is wrong for all of the times is so for the first of them.
  const isLost = ({ wrong, passed }: Course) =>
    wrong > WRONG + WRONG_SHARE * (reach === null ? fired.length : passed);
  const most = tolerance.most + (tolerance.span === null ? 0 : CLOCK_OPEN);
  const span = tolerance.span ?? Number.POSITIVE_INFINITY;
  let courses: Course[] = [
    {
      reference: createReference(reference, pixels),
      own: Uint32Array.from(all.level.keys()),
      run: new Uint8Array(all.level.length),
      fired: [],
      idleAt: Number.NEGATIVE_INFINITY,
      isRestarting: false,
      passed: 0,
      wrong: 0,
      shift: reach === null ? 0 : null,
      late: [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
    },
  ];
  /** Of the combinations of one course: 1 where it fires at this frame. */
  const fires = new Uint8Array(all.level.length);

  /** Counts the frame for every combination of a course; how many of them fire. */
  const count = ({ own, run }: Course): number => {
    const { region, changed } = meter.measure(difference);
    let firing = 0;
    for (let i = 0; i < own.length; i++) {
      const at = own[i]!;
      const counted = all.isRegion[at] === 1 ? region : changed;
      const active = counted[all.level[at]!]! >= all.area[at]! ? Math.min(255, run[i]! + 1) : 0;
      run[i] = active;
      const now = active >= all.persistence[at]! ? 1 : 0;
      fires[i] = now;
      firing += now;
    }
    return firing;
  };

  const fire = (course: Course, time: number): void => {
    course.run.fill(0);
    course.idleAt = time + cooldown;
    course.isRestarting = whileBusy === 'restarts';
    course.fired.push(time);
    if (time < from || time >= to) return;
    if (course.shift === null) {
      const shift = time - fired[0]!;
      if (!reach || shift < reach.least || shift > reach.most) course.wrong = Number.POSITIVE_INFINITY;
      course.shift = shift;
    }
    const at = time - course.shift;
    if (course.passed === fired.length || at < fired[course.passed]! - most) {
      course.wrong++;
      return;
    }
    const late = fired[course.passed++]! - at;
    const [least, latest] = [Math.min(course.late[0], late), Math.max(course.late[1], late)];
    // Told in whole seconds, no clock could make both right.
    if (latest - least > span + SAME) course.wrong++;
    else course.late = [least, latest];
  };

  let k = 0;
  let last = 0;
  for await (const y of frames) {
    const time = times[k++]!;
    let isSmoothed = radius === 0;
    const seen = radius === 0 ? y : smoothed;
    const parted: Course[] = [];
    let compared = 0;
    for (const course of courses) {
      const passing = course.shift === null ? Number.NEGATIVE_INFINITY : time - course.shift - most;
      while (course.passed < fired.length && passing > fired[course.passed]!) {
        course.passed++;
        course.wrong++;
      }
      if (isLost(course) || time < course.idleAt - TIME_TOLERANCE) continue;
      if (!isSmoothed) smooth(y, width, height, radius, smoothed);
      isSmoothed = true;
      compared++;
      if (course.isRestarting) course.reference.restart();
      course.isRestarting = false;
      course.reference.difference(seen, mask, difference);
      const firing = count(course);
      if (firing === course.own.length) {
        fire(course, time);
        continue;
      }
      if (firing > 0) {
        const own = createReference(reference, pixels);
        own.load(course.reference.save());
        const other: Course = {
          ...course,
          reference: own,
          own: course.own.filter((_, i) => fires[i] === 1),
          run: new Uint8Array(firing),
          fired: course.fired.slice(),
        };
        fire(other, time);
        parted.push(other);
        course.run = course.run.filter((_, i) => fires[i] === 0);
        course.own = course.own.filter((_, i) => fires[i] === 0);
      }
      // The frame that fires already belongs to the time in which the reference does not follow the scene.
      course.reference.advance(seen, time - last);
    }
    last = time;
    if (parted.length > 0) courses.push(...parted);
    courses = courses.filter((one) => !isLost(one));
    if (courses.length > MOST_COURSES + byClocks) courses = likeliest(courses, tolerance, byClocks);
    onFrame(compared);
    if (courses.length === 0) return [];
  }
  return courses
    .filter(({ fired: predicted }) => predicted.length > 0)
    .map(({ fired: predicted, own }) => ({
      predicted,
      values: Array.from(own, (at) => valuesAt(all, at, axes)),
    }));
}

/**
 * The likeliest of all, and of the others the likeliest of each clock, then of each the second, and so on; what has not fired yet is a clock
 * of its own.
 * @param byClocks how many of the others
 */
function likeliest(courses: readonly Course[], tolerance: Tolerance, byClocks: number): Course[] {
  const uneven = new Map(courses.map((one) => [one, unevenBy(one, tolerance)]));
  const sorted = courses.toSorted(
    (a, b) => a.wrong - b.wrong || uneven.get(a)! - uneven.get(b)! || b.own.length - a.own.length,
  );
  const others = sorted.slice(MOST_COURSES);
  const ofClock = new Map<number | null, number>();
  const turns = new Map<Course, number>();
  for (const one of others) {
    const turn = ofClock.get(one.shift) ?? 0;
    turns.set(one, turn);
    ofClock.set(one.shift, turn + 1);
  }
  const kept = others.toSorted((a, b) => turns.get(a)! - turns.get(b)!).slice(0, byClocks);
  return [...sorted.slice(0, MOST_COURSES), ...kept];
}

/** Seconds by which the fired times are late now more and now less, beyond what rounding and frames leave open; whatever the clock. */
function unevenBy({ late: [least, most] }: Course, { free, span }: Tolerance): number {
  return most < least ? 0 : Math.max(0, most - least - (span ?? 2 * free));
}

interface Combinations {
  isRegion: Uint8Array;
  level: Uint8Array;
  area: Uint32Array;
  persistence: Uint8Array;
}

/** All combinations, place by place. */
function combinationsOf({ kinds, levels, areas, persistences }: Axes): Combinations {
  const length = kinds.length * levels.length * areas.length * persistences.length;
  const all: Combinations = {
    isRegion: new Uint8Array(length),
    level: new Uint8Array(length),
    area: new Uint32Array(length),
    persistence: new Uint8Array(length),
  };
  let at = 0;
  for (const kind of kinds) {
    for (const level of levels) {
      for (const area of areas) {
        for (const persistence of persistences) {
          all.isRegion[at] = Number(kind === 'region');
          all.level[at] = level;
          all.area[at] = area;
          all.persistence[at++] = persistence;
        }
      }
    }
  }
  return all;
}

function valuesAt(
  { isRegion, level, area, persistence }: Combinations,
  at: number,
  { cooldowns }: Axes,
): Values {
  return {
    kind: isRegion[at] === 1 ? 'region' : 'changed',
    level: level[at]!,
    area: area[at]!,
    persistence: persistence[at]!,
    cooldown: cooldowns[0]!,
  };
}
