import type { Conditions } from '../../../src/weather/setup.js';
import type { Day, Yard } from '../yards/yard.js';

/** Where a row's figures are from. */
export type How =
  /** Sway measured on a windy clip of the site, on the calm clip itself, or assumed. */
  | 'measured at the site'
  | 'measured on the clip itself'
  | 'assumed'
  /** The sensor measured on another clip, at dusk; else what the program does by itself. */
  | 'measured at dusk'
  | 'by itself';

/** One way of putting one weather onto the calm clip. */
export interface Row {
  name: string;
  /** Which drawn day it is judged by. */
  day: string;
  to: Conditions;
  how: How;
}

export function calmOf({ calm, daylight }: Yard): Day {
  return { wind: calm, rain: 0, light: daylight };
}

/**
 * The days drawn, each but for what it changes as the calm one; some are drawn anew, with other gusts and drops, to know
 * how near to one another two such days come by themselves.
 */
const all: { name: string; change: Partial<Day>; anew: boolean }[] = [
  { name: 'wind 3', change: { wind: 3 }, anew: true },
  { name: 'wind 4', change: { wind: 4 }, anew: true },
  { name: 'wind 5', change: { wind: 5 }, anew: true },
  { name: 'wind 6', change: { wind: 6 }, anew: true },
  { name: 'rain 4 mm/h', change: { rain: 4 }, anew: true },
  { name: '20 lux', change: { light: 20 }, anew: true },
  { name: '5 lux', change: { light: 5 }, anew: false },
];

const { PERCHMARK_WEATHER: weather = '', PERCHMARK_HOW: how = '', PERCHMARK_SITE_WIND: site } = process.env;

/**
 * Those of one weather where PERCHMARK_WEATHER says what their names begin with ("wind"); where PERCHMARK_HOW names one way
 * ("measured at the site"), that alone is judged.
 */
export const days = all.filter(({ name }) => name.startsWith(weather));

function waysOf(change: Partial<Day>): How[] {
  return allWaysOf(change).filter((one) => one.startsWith(how));
}

function allWaysOf({ wind, light }: Partial<Day>): How[] {
  if (wind !== undefined) return ['measured at the site', 'measured on the clip itself', 'assumed'];
  return light !== undefined ? ['measured at dusk', 'by itself'] : ['by itself'];
}

export const rows: Row[] = days.flatMap(({ name, change }) =>
  waysOf(change).map((how): Row => ({ name: `${name}, ${how}`, day: name, to: change, how })),
);

/**
 * The windy clip on which sway is measured: of another Beaufort number than the one judged; where PERCHMARK_SITE_WIND is "same",
 * of that number on another day, which leaves nothing to carry on from one wind to the next.
 */
export function siteDay(judged: number): Partial<Day> & { wind: number } {
  if (site === 'same') return { wind: judged, again: 'at the site' };
  return { wind: judged === 4 ? 5 : 4 };
}

/** The light of the clip at dusk on which the sensor is measured, lux: neither of those that are judged. */
export const DUSK = 10;
