import type { AreaKind } from '../../sweep/columns.js';
import type { Wanted } from '../fired/wanted.js';
import { agreementOf, exactCloseness } from '../score/agreement.js';
import {
  type Best,
  placeOf,
  type Scores,
  scoreAll,
  slackFor,
  type Values,
  valuesAt,
} from '../score/scores.js';
import { FLOOR } from '../search/axes.js';
import type { Look } from '../search/look.js';
import type { ByItself } from '../search/stopping.js';
import { predictedBy, type Searched, type Tried } from '../search/tried.js';
import type { Finalist } from './finalist.js';
import { toTheirEnds } from './to-their-ends.js';
import { type Limit, limitOf } from './upper-limit.js';

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
  /** Whether these reach to an end of what was looked through, where there is more: then what does may reach farther. */
  atLeast: boolean;
  /** The upper limit that goes with them; null: none is asked for. */
  mostChanged: number | null;
  /** Of the best of them. */
  f1: number;
}

type Group = Omit<EquallyGood, 'look' | 'mostChanged' | 'f1'> & { best: Values };

/** All that explains the told times as well as the best, which comes first. */
export async function asGoodAs(
  best: Finalist,
  held: readonly Finalist[],
  searched: Pick<Searched, 'looking' | 'floor'>,
  wantedOf: (one: Tried) => Wanted,
  slack: number,
): Promise<EquallyGood[]> {
  const found: EquallyGood[] = [];
  const names = new Set<string>();
  const least = best.best.most - slack;
  for (const one of [best, ...held.filter((other) => other !== best)]) {
    if (one.best.most < least) continue;
    const wanted = wantedOf(one);
    const groups: (Group & { predicted?: readonly number[] })[] = one.closed
      ? followedGroups(one.closed, one)
      : groupsOf(
          one.best,
          await toTheirEnds(one, one.scores, least, searched, wanted, null),
          least,
          searched,
        );
    for (const { best: values, predicted: known, ...group } of groups) {
      const name = JSON.stringify([one.look, group.area, group.persistence]);
      if (names.has(name)) continue;
      names.add(name);
      const predicted = known ?? (await predictedBy(one, values, searched.looking.times));
      const { f1 } = agreementOf(wanted.fired, predicted, wanted.tolerance);
      found.push({ look: one.look, ...group, mostChanged: null, f1 });
    }
  }
  return found;
}

/**
 * The description with the limit that was found, then those that agree as well: without one, or with a limit of their own.
 * @param held the best first, whose limit is `limit`
 * @param f1 of the best under its limit
 */
export async function asGoodUnder(
  limit: Limit,
  f1: number,
  good: readonly EquallyGood[],
  held: readonly Finalist[],
  searched: Pick<Searched, 'looking' | 'floor'>,
  wantedOf: (one: Tried) => Wanted,
): Promise<EquallyGood[]> {
  const found: EquallyGood[] = [];
  for (const [i, one] of held.entries()) {
    if (one.closed) continue;
    const wanted = wantedOf(one);
    const own = i === 0 ? limit : await limitOf(one.source, one.best.values, searched.looking.times, wanted);
    if (!own || agreementOf(wanted.fired, own.predicted, wanted.tolerance).f1 < f1) continue;
    found.push(...(await under(own, one, searched, wanted)));
  }
  return [...found, ...good].filter((one, i) => i === 0 || one.f1 >= f1);
}

/** The values of one description that do as well under its limit as those for which that was found. */
async function under(
  { mostChanged, predicted }: Limit,
  one: Finalist,
  searched: Pick<Searched, 'looking' | 'floor'>,
  wanted: Wanted,
): Promise<EquallyGood[]> {
  const { times } = searched.looking;
  const { fired, tolerance } = wanted;
  const own = exactCloseness(fired, predicted, predicted.length, tolerance);
  const least = own - slackFor(fired.length);
  const { axes } = one.scores;
  const columns = await one.source.bothColumns(axes.levels);
  const scores = scoreAll(columns, times, axes, wanted, 'exactly', mostChanged);
  const all = await toTheirEnds(one, scores, least, searched, wanted, mostChanged);
  const found: EquallyGood[] = [];
  for (const { best, ...group } of groupsOf({ values: one.best.values, own }, all, least, searched)) {
    const fires = await predictedBy(one, best, times, mostChanged);
    found.push({ look: one.look, ...group, mostChanged, f1: agreementOf(fired, fires, tolerance).f1 });
  }
  return found;
}

function single(values: Values): Group {
  const { kind, level, area, persistence, cooldown } = values;
  const at = (x: number): Span => ({ from: x, to: x });
  return {
    area: kind,
    threshold: at(level),
    minimumArea: at(area),
    persistence: at(persistence),
    cooldown: at(cooldown),
    atLeast: false,
    best: values,
  };
}

/** What was followed by what it fires itself, by what is counted and persistence; that of the best first. */
function followedGroups(closed: ByItself, { alike, isCut }: Pick<Finalist, 'alike' | 'isCut'>) {
  const groups = new Map<string, Group & { predicted: readonly number[] }>();
  for (const { values, predicted } of [closed, ...alike]) {
    const key = `${values.kind} ${values.persistence}`;
    const at = groups.get(key);
    if (at) widen(at, values);
    else groups.set(key, { ...single(values), atLeast: isCut, predicted });
  }
  return [...groups.values()];
}

/**
 * The combinations that reach a closeness, by what is counted and persistence; that of the best first.
 * @param floor the lowest level that was looked through
 */
function groupsOf(
  best: Pick<Best, 'values' | 'own'>,
  scores: Scores,
  least: number,
  { floor }: Pick<Searched, 'floor'>,
): Group[] {
  const groups = new Map<string, Group & { most: number }>();
  const { values, axes } = scores;
  const add = (one: Values, value: number) => {
    const key = `${one.kind} ${one.persistence}`;
    const at = groups.get(key);
    if (!at) {
      groups.set(key, { ...single(one), most: value });
      return;
    }
    widen(at, one);
    if (value > at.most) Object.assign(at, { most: value, best: one });
  };
  add(best.values, best.own);
  for (let index = 0; index < values.length; index++) {
    if (values[index]! >= least) add(valuesAt(axes, placeOf(scores, index)), values[index]!);
  }
  // Below the lowest of all is noise alone; a search that raised it looked no farther.
  const isCut = ({ threshold }: Group) => floor > FLOOR && threshold.from <= floor;
  return [...groups.values()].map(({ most: _, ...group }) => ({ ...group, atLeast: isCut(group) }));
}

function widen(group: Group, { level, area, cooldown }: Values): void {
  group.threshold = widened(group.threshold, level);
  group.minimumArea = widened(group.minimumArea, area);
  group.cooldown = widened(group.cooldown, cooldown);
}

function widened({ from, to }: Span, x: number): Span {
  return { from: Math.min(from, x), to: Math.max(to, x) };
}
