import type { Settings } from '../camera/settings.js';
import type { SiteResult } from '../jobs/tune.js';
import { type Off, oftenText } from '../weather/off.js';
import { isAtCeiling } from './firing.js';
import { strengthName } from './strength-name.js';
import { figure } from './wording.js';

type Group = SiteResult['byCondition'][number];

/** Whose drawings it is that simulated weather was held against. */
const DRAWN = 'in gardens drawn by another renderer 8 of 10 settings fired falsely';

/** How far off simulated figures may be, and whether the advice for such weather holds within that; empty where none was simulated. */
export function explainOff({
  byCondition,
  recommended,
}: Pick<SiteResult, 'byCondition' | 'recommended'>): string[] {
  const told = byCondition.flatMap((group) => strengthsTold(group, (group.choice ?? recommended).settings));
  const ranges = told.flatMap(({ text }) => text ?? []);
  const untried = told.flatMap(({ name, text }) => (text === null ? [name] : []));
  return [
    ...(ranges.length > 0
      ? [`What is simulated rests on no recording, and may be this far off: ${DRAWN} ${ranges.join('; ')}.`]
      : []),
    ...(untried.length > 0 ? [`How far off it may be was not tried of ${untried.join(', ')}.`] : []),
    ...byCondition.flatMap(holdsText),
  ];
}

/** Of each strength what may be; without a text where that was not tried. What fires as often as it can is not told of. */
function strengthsTold(
  { condition, strengths = [] }: Group,
  settings: Settings,
): { name: string; text: string | null }[] {
  return strengths.flatMap(({ strength, falsePerHour, range }): { name: string; text: string | null }[] => {
    if (falsePerHour === null || isAtCeiling(settings, falsePerHour)) return [];
    const name = strengthName(condition, strength);
    if (!range) return [{ name, text: null }];
    const here = hereText(range, falsePerHour, settings);
    return [{ name, text: `${oftenText(range.times)} as simulated at ${name} (${here})` }];
  });
}

/** 6 to 62 an hour here, not 31 */
function hereText({ low, high }: Off, told: number, { cooldown }: Settings): string {
  const most = cooldown > 0 ? 3600 / cooldown : Number.POSITIVE_INFINITY;
  return `${figure(low)} to ${figure(Math.min(high, most))} an hour here, not ${figure(told)}`;
}

function holdsText({ condition, holds = null }: Group): string[] {
  if (holds === null) return [];
  return [
    holds
      ? `The advice for ${condition} holds at either end of that.`
      : `At one end of that the advice for ${condition} would be another: record a clip in it before you rely on it.`,
  ];
}

/** The same where figures are of many hours, each kind of them once. */
export function offOfHours(kinds: readonly { weather: string; off: Off | null }[]): string {
  const told = kinds.flatMap(({ weather, off }) =>
    off ? [`${oftenText(off)} as simulated in ${weather}`] : [],
  );
  const untried = kinds.flatMap(({ weather, off }) => (off ? [] : [weather]));
  const listed = (all: readonly string[]) => [...new Set(all)].join('; ');
  return [
    ...(told.length > 0
      ? [`Intervals of simulated figures are of chance alone; ${DRAWN} ${listed(told)}.`]
      : []),
    ...(untried.length > 0 ? [`How far off it may be was not tried of ${listed(untried)}.`] : []),
  ].join(' ');
}
