import type { Choice, SiteResult } from '../jobs/tune.js';
import type { Condition } from '../weather/conditions.js';
import { explainDoubts, explainRain, settingsName } from './explain-doubts.js';
import { explainOff } from './explain-off.js';
import { blindText, ceilingText, fewerText } from './firing.js';
import { strengthName } from './strength-name.js';
import { type Between, clock, dialsText, plural } from './wording.js';

/** Whether to change settings with the weather, as far as it was recorded; empty where fewer than two kinds were. */
export function explainWeather({ weather, worth, recommended, byCondition }: SiteResult): string[] {
  if (!weather) return [];
  const { one, changing, worthIt } = weather;
  const isRecommended = dialsText(one.controls) === dialsText(recommended.controls);
  const recorded = byCondition.flatMap(({ condition, source, choice }) =>
    source === 'recorded' && choice
      ? [{ weather: condition, settings: choice.settings, ...valuesOf(choice) }]
      : [],
  );
  if (hasSameDials(byCondition)) return [...ceilingText(recorded), SAME_DIALS];
  return [
    ...ceilingText(recorded),
    ...(isRecommended
      ? []
      : [`To leave one group in place for all recorded weather: ${dialsText(one.controls)}.`]),
    changing
      ? gain(changing, worthIt, worth !== null)
      : 'Whether changing them with the weather is worth it is too little to tell: that takes recordings of each kind that can be left out in turn.',
  ];
}

const SAME_DIALS = 'The same dials are best in each of them: there is nothing to change with the weather.';

/** Whether what is best in each kind of recorded weather is one and the same group of dials, so that there is nothing to change. */
export function hasSameDials(byCondition: SiteResult['byCondition']): boolean {
  const recorded = byCondition.flatMap(({ source, choice }) =>
    source === 'recorded' && choice ? [dialsText(choice.controls)] : [],
  );
  return recorded.length > 1 && new Set(recorded).size === 1;
}

function valuesOf({ score: { recall, falsePerHour } }: Choice) {
  return { recall: recall?.value ?? null, falsePerHour: falsePerHour?.value ?? null };
}

/** What advice for weather that nobody recorded rests on, and what its figures mean. */
export function explainSimulated(site: SiteResult): string[] {
  const { byCondition, simulations, recommended } = site;
  const simulated = byCondition.filter(({ source }) => source === 'simulated');
  if (simulated.length === 0) return [];
  const figured = simulated.filter((group) => !isUntried(group, site));
  const fared = simulated.flatMap(({ condition, choice, strengths = [] }) =>
    strengths.map(({ strength, ...values }) => ({
      condition,
      strength,
      weather: strengthName(condition, strength),
      settings: (choice ?? recommended).settings,
      ...values,
    })),
  );
  const tried = (kind: Condition) => fared.some(({ condition }) => condition === kind);
  const own = recommended.score.recall?.value ?? null;
  const moving = fared.filter(({ condition }) => condition !== 'low light');
  const on = simulations.map(
    ({ clip, sample, visits }) =>
      `Simulated on ${clip} from ${clock(sample.start)} to ${clock(sample.end)}, with ${plural(visits, 'visit')}.`,
  );
  return [
    // Whose figures they are means nothing by itself: it stands with what they were told on.
    ...(figured.length > 0 ? [[...on, whoseText(site, figured)].join(' ')] : []),
    ...simulations
      .filter(({ motionless }) => motionless)
      .map(
        ({ clip }) =>
          `No wind was put onto ${clip}, because no foliage is known there that it could move: outline it (on the page under "Mask and foliage", or in labels.json: foliage), or record a clip in wind.`,
      ),
    // It is simulated only where no clip was recorded in any.
    ...(tried('wind') ? [UNRECORDED_WIND] : []),
    ...explainOff(site),
    ...(tried('wind') && tried('rain') ? ['Wind and rain at once were not tried.'] : []),
    ...ceilingText(fared),
    ...blindText(moving, own),
    ...fewerText(moving, own),
    ...explainRain(site),
    ...explainDoubts(site),
  ];
}

/** Beside wind that was to be simulated and would have moved nothing; why, and what to do, is told below. */
export const UNTRIED_WIND = 'not tried: nothing is known here that it could move';

/** Whether such weather was to be simulated at a site and was not; what a given clip simulates has no strengths either. */
export function isUntried(
  { condition, strengths }: SiteResult['byCondition'][number],
  { simulations }: Pick<SiteResult, 'simulations'>,
): boolean {
  return condition === 'wind' && strengths?.length === 0 && simulations.some(({ motionless }) => motionless);
}

/** What is to be said of the figures of any simulated wind. */
export const UNRECORDED_WIND =
  'Simulated wind is such as no clip here is known to be recorded in: record such wind before you rely on it.';

/** Whose figures are told of simulated weather. */
function whoseText(site: SiteResult, simulated: SiteResult['byCondition']): string {
  const [own, others] = [true, false].map((has) =>
    simulated.filter(({ choice }) => (choice !== null) === has).map(({ condition }) => condition),
  ) as [string[], string[]];
  const named = own.map((condition) => `the settings advised for ${condition}`);
  return `The figures of simulated weather are of ${[...named, ...(others.length > 0 ? [settingsName(site)] : [])].join(', and of ')}.`;
}

/** That some weather was simulated with too few visits for dials of its own, said once of all sites; null where none was. */
export function fewSimulatedText(
  sites: readonly Pick<SiteResult, 'byCondition' | 'simulations' | 'tells'>[],
): string | null {
  const few = sites.filter((site) =>
    site.byCondition.some(
      (group) => group.source === 'simulated' && group.choice === null && !isUntried(group, site),
    ),
  );
  if (few.length === 0) return null;
  const told = [...new Set(few.map(settingsName))];
  const whose =
    told.length > 1
      ? 'the recommended settings would do in it, or choice A where there was too little to recommend any'
      : `${told.join()} would do in it`;
  return `Where simulated weather has no dials of its own, there were too few visits to rest them on: it is told what ${whose}. Record such weather to know.`;
}

/** Everything that simulated advice assumes, each line once. */
export function assumptionsOf(sites: readonly Pick<SiteResult, 'simulations'>[]): string[] {
  return [...new Set(sites.flatMap(({ simulations }) => simulations.flatMap(({ assumed }) => assumed)))];
}

/** What changing is worth over leaving one group in place, in visits of every hundred. */
function gain({ value, low, high }: Between, worthIt: boolean, byWorth: boolean): string {
  const does = byWorth ? 'be worth' : 'catch';
  const counted = byWorth ? ', photos of nothing counted in' : '';
  const verdict = worthIt ? 'worth it' : 'too little to be worth it. Leave it alone';
  return `Changing them with the weather would ${does} ${visits(value)} visits in a hundred ${moreOrLess(value)} (90 %: ${between(low)} to ${between(high)})${counted}; tried on footage left out: ${verdict}.`;
}

/** 18 less */
function between(share: number): string {
  return `${visits(share)} ${moreOrLess(share)}`;
}

function visits(share: number): number {
  return Math.abs(Math.round(100 * share));
}

function moreOrLess(share: number): string {
  return Math.round(100 * share) < 0 ? 'less' : 'more';
}
