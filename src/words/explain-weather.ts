import type { SiteResult } from '../jobs/tune.js';
import { type Between, clock, dialsText, figure, plural } from './wording.js';

/** Whether to change settings with the weather, as far as it was recorded; empty where fewer than two kinds were. */
export function explainWeather({ weather, worth }: SiteResult): string[] {
  if (!weather) return [];
  const { one, changing, worthIt } = weather;
  return [
    `To leave one group in place for all recorded weather: ${dialsText(one.controls)}.`,
    changing
      ? gain(changing, worthIt, worth !== null)
      : 'Whether changing them with the weather is worth it is too little to tell: that takes recordings of each kind that can be left out in turn.',
  ];
}

/** What advice for weather that nobody recorded rests on; each assumption once. */
export function explainSimulated({ byCondition, simulations, doubts }: SiteResult): string[] {
  const simulated = byCondition.filter(({ source }) => source === 'simulated');
  if (simulated.length === 0) return [];
  const few = simulated.some(({ choice }) => choice === null);
  return [
    ...simulations.map(
      ({ clip, sample, visits }) =>
        `Simulated on ${clip} from ${clock(sample.start)} to ${clock(sample.end)}, with ${plural(visits, 'visit')}.`,
    ),
    ...(few
      ? [
          'Too few visits to rest other dials on: it is told what the recommended settings would do in such weather. Record such weather to know.',
        ]
      : []),
    ...doubts.map(({ sway, controls, flips }) =>
      flips
        ? `Were branches to sway ${times(sway)} as far as assumed, the advice for wind would be another: ${dialsText(controls)}.`
        : `Were branches to sway ${times(sway)} as far as assumed, the advice for wind would hold.`,
    ),
  ];
}

/** Everything that simulated advice assumes, each line once. */
export function assumptionsOf(sites: readonly Pick<SiteResult, 'simulations'>[]): string[] {
  return [...new Set(sites.flatMap(({ simulations }) => simulations.flatMap(({ assumed }) => assumed)))];
}

/** Beaufort 6, 8 mm/h, 20 lux. */
export function strengthName(condition: string, strength: number): string {
  if (condition === 'wind') return `Beaufort ${figure(strength)}`;
  return `${figure(strength)} ${condition === 'rain' ? 'mm/h' : 'lux'}`;
}

function gain({ value, low, high }: Between, worthIt: boolean, byWorth: boolean): string {
  const points = (x: number) => `${Math.round(100 * x)}`;
  const what = byWorth
    ? 'what comes to as many visits in a hundred'
    : 'points in a hundred of the visits caught';
  const range = `${points(value)} (${points(low)} to ${points(high)}), ${what}`;
  const verdict = worthIt ? 'worth it' : 'too little to be worth it. Leave it alone';
  return `Changing them with the weather would add ${range}; tried on footage left out: ${verdict}.`;
}

function times(sway: number): string {
  return sway === 0.5 ? 'half' : sway === 2 ? 'twice' : `${figure(sway)} times`;
}
