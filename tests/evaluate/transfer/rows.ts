import type { Conditions } from '../../../src/weather/setup.js';
import type { Day, Yard } from '../yards/yard.js';

/** One way of putting one weather onto the calm clip. */
export interface Row {
  name: string;
  /** Which drawn day it is judged by. */
  day: string;
  to: Conditions;
  /** Where its sway is from: measured with a windy clip of the site, on the calm clip itself, assumed, or none is needed. */
  sway: 'site' | 'clip' | 'assumed' | 'none';
}

export function calmOf({ calm, daylight }: Yard): Day {
  return { wind: calm, rain: 0, light: daylight };
}

/**
 * The days drawn, each but for what it changes as the calm one; some are drawn anew, with other gusts and drops, to know
 * how near to one another two such days come by themselves.
 */
export const days: { name: string; change: Partial<Day>; anew: boolean }[] = [
  { name: 'wind 3', change: { wind: 3 }, anew: false },
  { name: 'wind 4', change: { wind: 4 }, anew: true },
  { name: 'wind 5', change: { wind: 5 }, anew: false },
  { name: 'wind 6', change: { wind: 6 }, anew: false },
  { name: 'rain 4 mm/h', change: { rain: 4 }, anew: true },
  { name: '20 lux', change: { light: 20 }, anew: true },
  { name: '5 lux', change: { light: 5 }, anew: false },
];

export const rows: Row[] = days.flatMap(({ name, change }): Row[] =>
  change.wind === undefined
    ? [{ name, day: name, to: change, sway: 'none' }]
    : [
        { name: `${name}, measured at the site`, day: name, to: change, sway: 'site' },
        { name: `${name}, measured on the clip itself`, day: name, to: change, sway: 'clip' },
        { name: `${name}, assumed`, day: name, to: change, sway: 'assumed' },
      ],
);

/** The Beaufort number of the windy clip on which sway is measured: another than the one judged. */
export function siteWind(judged: number): number {
  return judged === 4 ? 5 : 4;
}
