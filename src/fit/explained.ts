import type { Clip } from '../clip/open.js';
import type { AreaKind } from '../sweep/columns.js';
import { type Agreement, agreementOf, f1From, type Moment, momentsOf, type Tolerance } from './agreement.js';

import type { Clock } from './clock.js';
import { type Closed, closedLoop, valuesAround } from './closed.js';
import { type Look, lookName } from './look.js';
import { type Pinned, pinDown } from './pinned.js';
import {
  type Best,
  middleOfBest,
  placeOf,
  STRICTER,
  scoreAll,
  slackFor,
  type Values,
  valuesAt,
  weightOf,
} from './scores.js';
import type { Told } from './told.js';
import { type Course, predictedBy, priceOf, type Tried } from './tried.js';
import { triedText } from './trying.js';
import { upperLimit } from './upper-limit.js';
import { upTo, type Wanted, wantedBy } from './wanted.js';

/** Values between two ends, both of which do. */
export interface Span {
  from: number;
  to: number;
}

/** A description that explains the told times as well as the best does, with the values that do. */
export interface EquallyGood {
  look: Look;
  area: AreaKind;
  threshold: Span;
  minimumArea: Span;
  persistence: Span;
  cooldown: Span;
  /** The upper limit that goes with them; null: none is asked for. */
  mostChanged: number | null;
  /** Of the best of them. */
  f1: number;
}

/** What explains the told times. */
export interface Explained {
  look: Look;
  rate: number;
  values: Values;
  /** Pixels of all that changed above which it does not fire; null: no limit is asked for. */
  mostChanged: number | null;
  clock: Clock;
  tolerance: Tolerance;
  agreement: Agreement;
  moments: Moment[];
  /** Told times on the clip, by its clock, rising. */
  fired: Float64Array;
  /** Best first; the one chosen is within the first. */
  equallyGood: EquallyGood[];
  /**
   * F1 over the last third when threshold, area, persistence and cooldown are chosen by the rest; how it compares, its frames and the
   * clock come from all of the clip. Null where either part holds too few, and where the reference depends on triggers.
   */
  heldOut: number | null;
}

/** Of the best, those among which a choice is made anew. */
const MOST_HELD_OUT = 4;
/** Descriptions that are looked at closely; of each way of being busy the best at least. */
const FINALISTS = 8;
const EACH_WAY = 2;
/** Told times that either part must hold, for a share of them to say anything. */
const FEWEST_HELD_OUT = 5;

interface Finalist extends Pinned {
  /** What it really fires, where that takes a replay of its own. */
  closed: Closed | null;
  /** Of those that were replayed, all that come as near. */
  alike: Closed[];
}

/** Chooses among what a search found, and tells what does as well. */
export async function explain(clip: Clip, told: Told, course: Course): Promise<Explained | null> {
  const { looking, reckoning, tolerance } = course;
  const [first] = course.tried;
  if (!first) return null;
  const whole = [0, clip.seconds] as const;
  const wantedOf = ({ clock }: Pick<Tried, 'clock'>) => wantedBy(told, clock, tolerance, whole);
  const slack = slackFor(wantedOf(first).fired.length);
  const finalists: Finalist[] = [];
  reckoning.begin('choosing');
  for (const one of finalistsOf(course.tried, first.best.own)) {
    reckoning.trying(`looking closely at ${triedText([one.look])}`);
    for (const pinned of await pinDown(one, course, wantedOf(one), slack)) {
      finalists.push({ ...pinned, worth: pinned.worth - priceOf(one.look, slack), closed: null, alike: [] });
    }
    reckoning.held();
  }
  await replayClosed(finalists, course, wantedOf, slack);
  const held = finalists.sort((a, b) => b.worth - a.worth);
  const [best] = held;
  if (!best) return null;
  const { values } = best.best;
  const wanted = wantedOf(best);
  const limit = best.closed ? null : await limitOf(best, looking.times, wanted);
  const predicted =
    limit?.predicted ?? best.closed?.predicted ?? (await predictedBy(best, values, looking.times));
  const agreement = agreementOf(wanted.fired, predicted, tolerance);
  const good = await equallyGood(held, best, course, wantedOf, slack);
  return {
    look: best.look,
    rate: looking.rate,
    values,
    mostChanged: limit?.mostChanged ?? null,
    clock: best.clock,
    tolerance,
    agreement,
    moments: momentsOf(wanted.fired, predicted, tolerance),
    fired: wanted.fired,
    equallyGood: limit
      ? await underLimit(good, held, { ...limit, f1: agreement.f1 }, looking.times, wantedOf)
      : good,
    heldOut: await heldOut(clip, told, held, course, limit !== null),
  };
}

async function limitOf(
  { source, best: { values } }: Pick<Finalist, 'source' | 'best'>,
  times: Float64Array,
  wanted: Wanted,
) {
  const columns = await source.bothColumns([values.level]);
  const [area, changed] = [columns[values.kind].get(values.level)!, columns.changed.get(values.level)!];
  return upperLimit(area, changed, times, values, wanted);
}

/** Of closeness: what stops while busy and lies farther below the best is not replayed, for following it by the told times flatters it. */
const OUT_OF_REACH = 0.15;

/** The best of the descriptions, each once however it was followed, and some of each way of being busy that comes near. */
function finalistsOf(tried: readonly Tried[], most: number): Tried[] {
  const names = new Map<string, Tried>();
  for (const one of tried) if (!names.has(lookName(one.look))) names.set(lookName(one.look), one);
  const each = [...names.values()];
  const isNear = ({ look, best: { own } }: Tried) =>
    look.whileBusy === 'continues' || own >= most - OUT_OF_REACH;
  const ways = (['continues', 'frozen', 'restarts'] as const).flatMap((way) =>
    each.filter(({ look }) => look.whileBusy === way).slice(0, EACH_WAY),
  );
  return [...new Set([...each.slice(0, FINALISTS), ...ways])].filter(isNear);
}

/** What is followed by the told times may fire otherwise by itself: the values that really do best take the place of those. */
async function replayClosed(
  finalists: Finalist[],
  course: Course,
  wantedOf: (one: Tried) => Wanted,
  slack: number,
): Promise<void> {
  const { reckoning } = course;
  for (const finalist of finalists) {
    if (finalist.look.whileBusy === 'continues') continue;
    const wanted = wantedOf(finalist);
    const tried: Closed[] = [];
    reckoning.trying(`firing as ${triedText([finalist.look])} would by itself`);
    let { values } = finalist.best;
    for (let round = 0; round < 2; round++) {
      const known = tried.map((one) => one.values);
      const around = valuesAround(values, course.cooldowns, known);
      if (around.length === 0) break;
      const onFrame = () => reckoning.compared(1, finalist.look, around.length);
      tried.push(...(await closedLoop(course, finalist, around, wanted, onFrame)));
      values = bestOf(tried).values;
      if (bestOf(tried).close >= 1 - slack) break;
    }
    const closed = middleOf(tried, wanted.fired.length);
    finalist.alike = alikeOf(tried, wanted.fired.length);
    finalist.worth -= Math.max(finalist.best.most, finalist.best.own) - closed.close;
    finalist.closed = closed;
    finalist.best = { ...finalist.best, values: closed.values, own: closed.close, most: closed.close };
  }
}

/** Of those as good as the best the one nearest to the middle of their weight. */
function middleOf(tried: readonly Closed[], fired: number): Closed {
  const most = bestOf(tried).close;
  const good = alikeOf(tried, fired);
  const at = ({ values: { level, area, cooldown } }: Closed) => [
    Math.log(level),
    Math.log(area),
    Math.log1p(cooldown),
  ];
  const weights = tried.map(({ close }) => weightOf(close, most, fired));
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  const middle = [0, 1, 2].map(
    (axis) => tried.reduce((sum, one, i) => sum + weights[i]! * at(one)[axis]!, 0) / all,
  );
  const distance = (one: Closed) => at(one).reduce((sum, x, axis) => sum + (x - middle[axis]!) ** 2, 0);
  return good.reduce((a, b) => (distance(b) < distance(a) ? b : a));
}

function alikeOf(tried: readonly Closed[], fired: number): Closed[] {
  const most = bestOf(tried).close;
  return tried.filter(({ close }) => close >= most - slackFor(fired));
}

/** The first of the closest. */
function bestOf(tried: readonly Closed[]): Closed {
  return tried.reduce((a, b) => (b.close > a.close + 1e-9 ? b : a));
}

async function equallyGood(
  held: readonly Finalist[],
  best: Finalist,
  course: Course,
  wantedOf: (one: Tried) => Wanted,
  slack: number,
): Promise<EquallyGood[]> {
  const found: EquallyGood[] = [];
  const names = new Set<string>();
  for (const one of [best, ...held.filter((other) => other !== best)]) {
    if (one.best.most < best.best.most - slack) continue;
    const wanted = wantedOf(one);
    for (const group of one.closed
      ? [spanned(one.closed, one.alike)]
      : groupsOf(one, best.best.most - slack)) {
      const name = JSON.stringify([one.look, group.area, group.persistence]);
      if (names.has(name)) continue;
      names.add(name);
      const predicted = one.closed?.predicted ?? (await predictedBy(one, group.best, course.looking.times));
      const { best: _, ...told } = group;
      found.push({
        look: one.look,
        ...told,
        mostChanged: null,
        f1: agreementOf(wanted.fired, predicted, wanted.tolerance).f1,
      });
    }
  }
  return found;
}

/**
 * The description with the limit that was found, then those that agree as well: without one, or with a limit of their own.
 * @param held the best first, whose limit is known
 */
async function underLimit(
  good: readonly EquallyGood[],
  [best, ...others]: readonly Finalist[],
  { mostChanged, f1 }: { mostChanged: number; f1: number },
  times: Float64Array,
  wantedOf: (one: Tried) => Wanted,
): Promise<EquallyGood[]> {
  const limited = ({ look, best: { values } }: Finalist, limit: number, own: number): EquallyGood => {
    const { best: _, ...told } = single({ values } as Closed);
    return { look, ...told, mostChanged: limit, f1: own };
  };
  const found = [limited(best as Finalist, mostChanged, f1)];
  for (const one of others) {
    if (one.closed) continue;
    const wanted = wantedOf(one);
    const limit = await limitOf(one, times, wanted);
    const own = limit ? agreementOf(wanted.fired, limit.predicted, wanted.tolerance).f1 : 0;
    if (limit && own >= f1) found.push(limited(one, limit.mostChanged, own));
  }
  return [...found, ...good.filter((one) => one.f1 >= f1)];
}

type Group = Omit<EquallyGood, 'look' | 'mostChanged' | 'f1'> & { best: Values };

function single({ values }: Closed): Group {
  const { kind, level, area, persistence, cooldown } = values;
  const at = (x: number): Span => ({ from: x, to: x });
  return {
    area: kind,
    threshold: at(level),
    minimumArea: at(area),
    persistence: at(persistence),
    cooldown: at(cooldown),
    best: values,
  };
}

/** What was replayed of one way of counting and one persistence, with all that came as near. */
function spanned(closed: Closed, alike: readonly Closed[]): Group {
  const group = single(closed);
  for (const { values } of alike) {
    group.threshold = widened(group.threshold, values.level);
    group.minimumArea = widened(group.minimumArea, values.area);
    group.cooldown = widened(group.cooldown, values.cooldown);
  }
  return group;
}

/** The combinations that reach a closeness, by what is counted and persistence. */
function groupsOf({ scores, best }: Finalist, least: number): Group[] {
  const groups = new Map<string, Group & { most: number }>();
  const { values, axes } = scores;
  const add = (one: Values, value: number) => {
    const key = `${one.kind} ${one.persistence}`;
    const at = groups.get(key);
    if (!at) {
      groups.set(key, { ...single({ values: one } as Closed), most: value });
      return;
    }
    at.threshold = widened(at.threshold, one.level);
    at.minimumArea = widened(at.minimumArea, one.area);
    at.cooldown = widened(at.cooldown, one.cooldown);
    if (value > at.most) Object.assign(at, { most: value, best: one });
  };
  add(best.values, best.own);
  for (let index = 0; index < values.length; index++) {
    if (values[index]! >= least) add(valuesAt(axes, placeOf(scores, index)), values[index]!);
  }
  return [...groups.values()].map(({ most: _, ...group }) => group);
}

function widened({ from, to }: Span, x: number): Span {
  return { from: Math.min(from, x), to: Math.max(to, x) };
}

/**
 * How the choice does on the last third of the clip when it is made by the rest; null where it follows the told times, for
 * then it would know those of the last third.
 * @param isLimited whether an upper limit is sought as well
 */
async function heldOut(
  clip: Clip,
  told: Told,
  held: readonly Finalist[],
  { looking, tolerance }: Course,
  isLimited: boolean,
): Promise<number | null> {
  const cut = (2 * clip.seconds) / 3;
  const [best] = held;
  if (!best || best.busy) return null;
  const wantedOf = ({ clock }: Finalist) => wantedBy(told, clock, tolerance, [0, clip.seconds]);
  const { fired } = wantedOf(best);
  const before = fired.filter((time) => time < cut).length;
  if (Math.min(before, fired.length - before) < FEWEST_HELD_OUT) return null;
  let most: { one: Finalist; best: Best } | null = null;
  for (const one of held.slice(0, MOST_HELD_OUT)) {
    if (one.busy) continue;
    const { axes } = one.scores;
    const here = upTo(wantedOf(one), cut);
    const scores = scoreAll(await one.source.bothColumns(axes.levels), looking.times, axes, here, 'within');
    const found = middleOfBest(scores, here.fired.length, STRICTER);
    if (found && (!most || found.own > most.best.own)) most = { one, best: found };
  }
  if (!most) return null;
  const limit =
    isLimited &&
    (await limitOf({ ...most.one, best: most.best }, looking.times, upTo(wantedOf(most.one), cut)));
  const predicted = limit ? limit.predicted : await predictedBy(most.one, most.best.values, looking.times);
  return f1From(momentsOf(wantedOf(most.one).fired, predicted, tolerance), cut);
}
