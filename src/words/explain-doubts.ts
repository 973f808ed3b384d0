import { significant } from '../base/figures.js';
import type { SiteResult } from '../jobs/tune.js';
import { FIRST } from './choices.js';
import { isAtCeiling } from './firing.js';
import { figure, plural } from './wording.js';

type DoubtOf = SiteResult['doubts'][number];
type Site = Pick<SiteResult, 'doubts' | 'byCondition' | 'recommended' | 'tells'>;

/** Whether the advice for each simulated weather holds whatever is assumed, and what to measure first where not. */
export function explainDoubts(site: Site): string[] {
  const kinds = [...new Set(site.doubts.map(({ condition }) => condition))];
  return kinds.map((kind) => {
    const doubts = site.doubts.filter(({ condition }) => condition === kind);
    const own = site.byCondition.find(({ condition }) => condition === kind)?.choice;
    const { settings } = own ?? site.recommended;
    return ofKind(kind, doubts.sort(byEffect), {
      name: own ? `the settings advised for ${kind}` : settingsName(site),
      capped: ({ falsePerHour }) => isAtCeiling(settings, falsePerHour),
    });
  });
}

/** What the settings are called that everything is said of. */
export function settingsName({ tells }: Pick<SiteResult, 'tells'>): string {
  return tells === 'too little' ? `choice ${FIRST}` : 'the recommended settings';
}

interface Told {
  name: string;
  /** Whether they fire as often as their cooldown lets them, so that more cannot show. */
  capped: (fared: Pick<DoubtOf, 'falsePerHour'>) => boolean;
}

/** @param doubts of one kind of weather, what changes most first */
function ofKind(kind: string, doubts: readonly DoubtOf[], { name, capped }: Told): string {
  const [most] = doubts as [DoubtOf];
  const flipping = doubts.filter(({ flips, again }) => flips && again !== false);
  const chance = doubts.find(({ again }) => again === false);
  const [first] = flipping;
  const hidden = capped(most.asAssumed);
  if (first) {
    const others = new Set(flipping.map(({ assumption }) => assumption)).size - 1;
    const more = others > 0 ? ` So it is with ${plural(others, 'assumption')} more.` : '';
    return `Measure this first: ${first.what}. At ${timesName(first.taken)} what is assumed (${assumedFigure(first)}) the advice for ${kind} would be another${first.again === true ? ', in two drawings of chance' : ''}: ${name} would do this, in one${first.again === true ? ' of them' : ' drawing of chance'}: ${outcomeOf(first)}. ${first.measure}${more}`;
  }
  if (chance) {
    return `That the advice for ${kind} hangs on ${chance.what} cannot be told from chance: at ${timesName(chance.taken)} what is assumed (${assumedFigure(chance)}) it would be another in one drawing of chance, and not in a second. In the first ${name} would do this: ${outcomeOf(chance)}. ${chance.measure}`;
  }
  const things = whatIsDoubted(doubts);
  if (!hasEffect(most)) {
    return hidden
      ? `Whether what simulated ${kind} does to ${name} hangs on ${things} cannot be told: with each halved and doubled they fire as often as their cooldown lets them.`
      : `What simulated ${kind} does to ${name} does not hang on ${things}, by ${plural(most.visits, 'visit')} in one drawing of chance.`;
  }
  const ceiling = hidden
    ? ' How many false triggers hang on it cannot be told, because as assumed they fire as often as their cooldown lets them.'
    : '';
  const change = `${most.what}: at ${timesName(most.taken)} what is assumed, ${outcomeOf(most)}. ${most.measure}${ceiling}`;
  if (most.flips === null) return `What simulated ${kind} does to ${name} hangs most on ${change}`;
  return hidden
    ? `Whether the advice for ${kind} holds with ${things} halved or doubled cannot be told. What it does hangs most on ${change}`
    : `The advice for ${kind} holds with ${things} halved or doubled. What it does hangs most on ${change}`;
}

function whatIsDoubted(doubts: readonly DoubtOf[]): string {
  const count = new Set(doubts.map(({ assumption }) => assumption)).size;
  return count === 1 ? `what is assumed of ${doubts[0]!.what}` : `any of the ${count} things assumed of it`;
}

/** 0.3 of their length, at the tip; a bare number where it has no unit. */
export function assumedFigure({ figure: value, unit }: Pick<DoubtOf, 'figure' | 'unit'>): string {
  return `${significant(value, 3)}${unit === '' ? '' : ` ${unit}`}`;
}

export function timesName(times: number): string {
  return times === 0.5 ? 'half' : times === 2 ? 'twice' : `${significant(times, 3)} times`;
}

/** 2 of 3 visits caught instead of 1, 0 false an hour instead of 36; what stays is not told as changed. Counts, for a share of few visits says more than they do. */
function outcomeOf({ recall, falsePerHour, visits, asAssumed }: DoubtOf): string {
  const count = (share: number | null) => Math.round((share ?? 0) * visits);
  const caught = `${count(recall)} of ${plural(visits, 'visit')} caught`;
  const fired = `${figure(falsePerHour ?? 0)} false an hour`;
  return [
    recall === asAssumed.recall ? `${caught} either way` : `${caught} instead of ${count(asAssumed.recall)}`,
    falsePerHour === asAssumed.falsePerHour
      ? `${fired} either way`
      : `${fired} instead of ${figure(asAssumed.falsePerHour ?? 0)}`,
  ].join(', ');
}

function hasEffect({ recall, falsePerHour, asAssumed }: DoubtOf): boolean {
  return recall !== asAssumed.recall || falsePerHour !== asAssumed.falsePerHour;
}

/** By the goal, either way; where that is the same, by visits caught, then by false triggers. */
function byEffect(a: DoubtOf, b: DoubtOf): number {
  const of = ({ lost, recall, falsePerHour, asAssumed }: DoubtOf) => [
    Math.abs(lost),
    Math.abs((recall ?? 0) - (asAssumed.recall ?? 0)),
    Math.abs((falsePerHour ?? 0) - (asAssumed.falsePerHour ?? 0)),
  ];
  const [here, there] = [of(a), of(b)];
  const k = here.findIndex((value, i) => value !== there[i]);
  return k < 0 ? 0 : there[k]! - here[k]!;
}

/** Parts of the rain that fire less often than this share of all of it are not told. */
const TELLING = 0.1;

/** Which part of simulated rain fires the camera; empty where it was not taken apart. */
export function explainRain({ rain }: Pick<SiteResult, 'rain'>): string[] {
  if (!rain || rain.falsePerHour === null) return [];
  const all = rain.falsePerHour;
  const dry = rain.dry ?? 0;
  const firing = rain.parts
    .filter(({ alone }) => alone !== null && alone - dry > TELLING * all)
    .sort((a, b) => b.alone! - a.alone!);
  const at = `In simulated rain of ${figure(rain.strength)} mm/h`;
  if (rain.falsePerHour <= dry) return [`${at} the settings fire falsely no more than without it.`];
  if (firing.length === 0) {
    return [`${at} no part of it fires these settings much by itself: its parts do so together.`];
  }
  const [first, ...others] = firing.map(({ part, alone }) => `${part} (${figure(alone!)} by itself)`);
  const then = others.length > 0 ? `, then ${others.join(', ')}` : ', and nothing else much';
  return [
    `${at}, of ${figure(rain.falsePerHour)} false an hour (${figure(dry)} without rain), what fires it most is ${first}${then}.`,
  ];
}
