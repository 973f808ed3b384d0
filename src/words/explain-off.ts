import type { Settings } from '../camera/settings.js';
import type { SiteResult } from '../jobs/tune.js';
import { DRAWN, type Off, oftenText, RAIN_DRAWN } from '../weather/off.js';
import { isAtCeiling } from './firing.js';
import { mostAnHour } from './ratios.js';
import { strengthName } from './strength-name.js';
import { figure } from './wording.js';

type Group = SiteResult['byCondition'][number];

/** How far off simulated figures may be, and whether the advice for such weather holds within that; empty where none was simulated. */
export function explainOff({
  byCondition,
  recommended,
}: Pick<SiteResult, 'byCondition' | 'recommended'>): string[] {
  const groups = byCondition.map((group) => ({
    group,
    strengths: strengthsTold(group, (group.choice ?? recommended).settings),
  }));
  const told = groups.flatMap(({ strengths }) => strengths);
  const namesOf = (untold: StrengthTold['untold']) =>
    told.flatMap((one) => (one.untold === untold ? [one.name] : []));
  const [few, untried] = [namesOf('too few triggers'), namesOf('no drawing')];
  const ranges = [...new Set(told.flatMap(({ as }) => as ?? []))].map((as) => {
    const alike = told.filter((one) => one.as === as).map(({ name, here }) => `${name} (${here})`);
    return `${as} at ${alike.join(', ')}`;
  });
  return [
    ...(ranges.length > 0
      ? [
          `No recording of such weather is in what is simulated, and it may be this far off: ${DRAWN} ${ranges.join('; ')}.`,
        ]
      : []),
    // Of what there is no range of nothing can hold at either end of it.
    ...groups.flatMap(({ group, strengths }) => (strengths.some(({ as }) => as) ? holdsText(group) : [])),
    ...(few.length > 0
      ? [`Too few simulated triggers to tell how far off it may be: ${few.join(', ')}.`]
      : []),
    ...(untried.length > 0 ? [`How far off it may be is not known of ${untried.join(', ')}.`] : []),
  ];
}

/** A strength of some weather, how often it may fire as simulated and what that comes to, or why that is not known. */
interface StrengthTold {
  name: string;
  as: string | null;
  here: string;
  untold?: 'too few triggers' | 'no drawing';
}

/** What fires as often as it can is not told of. */
function strengthsTold({ condition, strengths = [] }: Group, settings: Settings): StrengthTold[] {
  return strengths.flatMap(({ strength, falsePerHour, range, tooFew }): StrengthTold[] => {
    if (falsePerHour === null || isAtCeiling(settings, falsePerHour)) return [];
    const name = strengthName(condition, strength);
    if (!range) return [{ name, as: null, here: '', untold: tooFew ? 'too few triggers' : 'no drawing' }];
    const drawn = condition === 'rain' && strength !== RAIN_DRAWN ? `drawn in ${RAIN_DRAWN} mm/h; ` : '';
    return [
      {
        name,
        as: `${oftenText(range.times)} as simulated`,
        here: `${drawn}${hereText(range, falsePerHour, settings)}`,
      },
    ];
  });
}

/** here 6 to 62 an hour, where 31 is told */
function hereText({ low, high }: Off, told: number, settings: Settings): string {
  return `here ${figure(low)} to ${figure(Math.min(high, mostAnHour(settings)))} an hour, where ${figure(told)} is told`;
}

function holdsText({ condition, holds = null }: Group): string[] {
  if (holds === null) return [];
  return [
    holds
      ? `The advice for ${condition} holds at either end of that, were all settings off alike.`
      : `At one end of that the advice for ${condition} would be another, or break what is allowed: record a clip in it before you rely on it.`,
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
    ...(untried.length > 0 ? [`How far off it may be is not known of ${listed(untried)}.`] : []),
  ].join(' ');
}
