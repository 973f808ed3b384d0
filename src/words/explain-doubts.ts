import type { SiteResult } from '../jobs/tune.js';
import { figure, plural } from './wording.js';

type DoubtOf = SiteResult['doubts'][number];

/** Whether the advice for each simulated weather holds whatever is assumed, and what to measure first where not. */
export function explainDoubts({ doubts }: Pick<SiteResult, 'doubts'>): string[] {
  const kinds = [...new Set(doubts.map(({ condition }) => condition))];
  return kinds.map((kind) =>
    ofKind(
      kind,
      doubts.filter(({ condition }) => condition === kind),
    ),
  );
}

function ofKind(kind: string, doubts: readonly DoubtOf[]): string {
  const names = new Set(doubts.map(({ assumption }) => assumption));
  const flipping = doubts.filter(({ flips }) => flips);
  const [first] = flipping;
  if (first) {
    const others = new Set(flipping.map(({ assumption }) => assumption)).size - 1;
    const more = others > 0 ? ` So it is with ${plural(others, 'assumption')} more.` : '';
    return `Measure this first: ${first.what}. At ${timesName(first.times)} what is assumed (${assumedFigure(first)}) the advice for ${kind} would be another. ${first.measure}${more}`;
  }
  if (doubts.some(({ flips }) => flips === null)) {
    const most = doubts.reduce((a, b) => (changeIn(b) > changeIn(a) ? b : a));
    if (changeIn(most) === 0) {
      return `What simulated ${kind} does to the recommended settings does not hang on ${whatIsDoubted(names.size, doubts)}.`;
    }
    return `What simulated ${kind} does to the recommended settings hangs most on ${most.what}: at ${timesName(most.times)} what is assumed, ${ratesOf(most)}. ${most.measure}`;
  }
  return `The advice for ${kind} holds with ${whatIsDoubted(names.size, doubts)} halved or doubled.`;
}

function whatIsDoubted(count: number, doubts: readonly DoubtOf[]): string {
  return count === 1 ? `what is assumed of ${doubts[0]!.what}` : `any of the ${count} things assumed of it`;
}

/** 0.3 of their length, at the tip; a bare number where it has no unit. */
export function assumedFigure({ figure: value, unit }: Pick<DoubtOf, 'figure' | 'unit'>): string {
  return `${figure(value)}${unit === '' ? '' : ` ${unit}`}`;
}

export function timesName(times: number): string {
  return times === 0.5 ? 'half' : times === 2 ? 'twice' : `${figure(times)} times`;
}

function ratesOf({ falsePerHour, asAssumed }: DoubtOf): string {
  return `${figure(falsePerHour ?? 0)} false an hour instead of ${figure(asAssumed.falsePerHour ?? 0)}`;
}

function changeIn({ falsePerHour, asAssumed }: DoubtOf): number {
  return Math.abs((falsePerHour ?? 0) - (asAssumed.falsePerHour ?? 0));
}

/** Which part of simulated rain fires the camera; empty where it was not taken apart. */
export function explainRain({ rain }: Pick<SiteResult, 'rain'>): string[] {
  if (!rain || rain.falsePerHour === null) return [];
  const dry = rain.dry ?? 0;
  const firing = rain.parts
    .filter(({ alone }) => alone !== null && alone > dry)
    .sort((a, b) => b.alone! - a.alone!);
  const at = `In simulated rain of ${figure(rain.strength)} mm/h`;
  if (rain.falsePerHour <= dry) return [`${at} the settings fire falsely no more than without it.`];
  if (firing.length === 0) {
    return [`${at} no part of it fires these settings by itself: its parts do so together.`];
  }
  const [first, ...others] = firing.map(({ part, alone }) => `${part} (${figure(alone!)} by itself)`);
  const then = others.length > 0 ? `, then ${others.join(', ')}` : ', and nothing else';
  return [
    `${at}, of ${figure(rain.falsePerHour)} false an hour (${figure(dry)} without rain), what fires it most is ${first}${then}.`,
  ];
}
