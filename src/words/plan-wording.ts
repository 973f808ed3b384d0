import { inClipJson } from '../base/about-clip.js';
import { clock, figure, plural } from '../base/figures.js';
import { engineValues } from '../camera/dials.js';
import type { DialsPlanned, PlanResult, SitePlan } from '../jobs/plan.js';
import type { Between } from '../outing/between.js';
import { clockText, dayText, parseInstant } from '../plan/instant.js';
import { FEWEST_TO_TELL } from '../tune/tells.js';
import { WINDY_FROM } from '../weather/conditions.js';
import { alike, differing } from './answer.js';
import { offOfHours } from './explain-off.js';
import { UNRECORDED_WIND } from './explain-weather.js';
import { dialsText, figureBetween, percentBetween } from './wording.js';

/** What a site is called in a plan: its name, or else its clips. */
export function plannedName({ site, clips }: Pick<SitePlan, 'site' | 'clips'>): string {
  return site ?? (clips.length === 1 ? clips[0]! : 'no site named');
}

/** What to do: leave one setting, change it, or neither can be told. */
export type PlanAdvice = 'too little' | 'leave' | 'change';

export function planAdvice({ tells, week }: Pick<SitePlan, 'tells' | 'week'>): PlanAdvice {
  if (tells === 'too little') return 'too little';
  return week.worthIt ? 'change' : 'leave';
}

/** The answer in one line. */
export function planHeadline(site: SitePlan): string {
  const { one, walks } = site.week;
  const hint = site.tells === 'hint' ? ', as a hint' : '';
  switch (planAdvice(site)) {
    case 'too little':
      return 'Too little to tell which settings are best; what follows is not to be acted on.';
    case 'leave':
      if (site.inUse === null) return `Leave it at ${dialsOf(one)}${hint}.`;
      return isInUse(site)
        ? `Leave it as it is in use, at ${dialsOf(one)}${hint}.`
        : `Set it to ${dialsOf(one)}, and leave it there${hint}. ${inUseText(site)}`;
    case 'change':
      return `Change it with the weather, in ${plural(walks, 'walk')}${hint}. ${inUseText(site)}`.trim();
  }
}

/** Whether the one setting is what is used there now, in the engine's values and in the mask. */
export function isInUse({ inUse, week: { one } }: Pick<SitePlan, 'inUse' | 'week'>): boolean {
  return (
    inUse !== null &&
    engineValues.every((value) => inUse.settings[value] === one.settings[value]) &&
    JSON.stringify(inUse.settings.mask ?? []) === JSON.stringify(one.settings.mask ?? [])
  );
}

/** What is used there now; empty where nobody said. */
function inUseText({ inUse }: SitePlan): string {
  if (inUse === null) return '';
  const { settings, controls } = inUse;
  return `In use now: ${controls ? dialsOf({ settings, controls }) : 'settings that the dials do not give'}.`;
}

/** What is set at the start and at each walk, with what is always the same said once; in lines of a moment and what to do then. */
export function turnsOf({ week: { changing } }: Pick<SitePlan, 'week'>): [moment: string, dials: string][] {
  const { first, changes } = changing;
  const { same, differ } = alike([first, ...changes].map(({ controls }) => controls));
  const shapes = first.settings.mask?.length ?? 0;
  const always = [
    ...(Object.keys(same).length > 0 ? [dialsText(same)] : []),
    ...(shapes > 0 ? [`with a mask of ${plural(shapes, 'shape')}`] : []),
  ].join(', ');
  return [
    ...(always === '' ? [] : [['all the time', always] as [string, string]]),
    ['at the start', differing(first.controls, differ)],
    ...changes.map(({ at, controls }): [string, string] => [momentText(at), differing(controls, differ)]),
  ];
}

/** sensitivity 7, cooldown 5, with a mask of 2 shapes */
export function dialsOf({ controls, settings }: DialsPlanned): string {
  const shapes = settings.mask?.length ?? 0;
  return `${dialsText(controls)}${shapes > 0 ? `, with a mask of ${plural(shapes, 'shape')}` : ''}`;
}

/** What the walks would buy, and whether that is worth it. */
export function walksText(
  { week, tells, visits, clips, allowance }: SitePlan,
  { worth, walk }: Pick<PlanResult, 'worth' | 'walk'>,
): string {
  if (tells === 'too little') {
    return visits < FEWEST_TO_TELL
      ? `It rests on ${plural(visits, 'visit')}, and it takes ${FEWEST_TO_TELL}: label more, on other days if you can.`
      : `What was recorded does not tell what to expect on other footage: ${clips.length > 1 ? 'label more visits, in clips of other days' : 'record a second clip here'}.`;
  }
  const { walks, gain, worthIt } = week;
  // Within an allowance nobody was asked what a visit is worth.
  const price = allowance
    ? `within the ${figure(allowance.falsePerHour)} false triggers an hour that are allowed`
    : `a visit taken to be worth ${figure(worth)} photos of nothing and a walk ${figure(walk)}`;
  if (walks === 0) {
    return allowance
      ? `No walk to change it is expected to bring enough, ${price}.`
      : `No walk to change it is expected to be worth it, ${price}.`;
  }
  const count = worthIt
    ? `The ${plural(walks, 'walk')} buy`
    : `Changing it with the weather, in ${plural(walks, 'walk')}, would buy`;
  if (gain === null) {
    return `Changing it with the weather, in ${plural(walks, 'walk')}, might be worth it, but that is too little to tell: it takes two recordings, or blocks of time, of each weather that it is changed for. Leave it alone.`;
  }
  const verdict = worthIt ? 'worth it' : 'not sure enough to be worth it. Leave it alone';
  return `${count} ${shareText(gain.recall)} and ${photosText(gain.photosOfNothing)} (90 %, tried on footage left out), ${price}: ${verdict}.`;
}

/** What may be in any hour, and whether that is kept; empty where settings are chosen by worth. */
export function allowanceText({ allowance }: Pick<SitePlan, 'allowance'>): string {
  if (allowance === null) return '';
  const { falsePerHour, kept } = allowance;
  const told =
    kept === null
      ? 'whether that is kept cannot be told of all of them'
      : kept
        ? 'kept on the footage that it was chosen on'
        : 'not kept in all of them';
  return `Chosen to fire falsely no more than ${figure(falsePerHour)} times in any hour: ${told}.`;
}

/** 12 visits in a hundred more (-2 to 26) */
function shareText({ value, low, high }: Between): string {
  const points = (x: number) => Math.round(100 * x) || 0;
  const more = points(value) < 0 ? 'fewer' : 'more';
  return `${plural(Math.abs(points(value)), 'visit')} in a hundred ${more} (${points(low)} to ${points(high)})`;
}

function photosText({ value, low, high }: Between): string {
  const rough = (x: number) => Number(x.toPrecision(2)) || 0;
  const more = value < 0 ? 'fewer' : 'more';
  return `${figure(Math.abs(rough(value)))} photos of nothing ${more} (${figure(rough(low))} to ${figure(rough(high))})`;
}

/** Mon 4 May 06:00 to Sun 10 May 06:00 */
export function spanText({ from, to }: { from: string; to: string }): string {
  return `${momentText(from)} to ${momentText(to)}`;
}

/** Mon 4 May 06:00, by the forecast's own clock. */
export function momentText(at: string): string {
  const instant = parseInstant(at, '');
  return `${dayText(instant)} ${clockText(instant)}`;
}

/** What goes before everything else: that night is told as if it were day; null where darkness is reckoned. */
export function noDarknessText({ placeKnown }: Pick<SitePlan, 'placeKnown'>): string | null {
  return placeKnown
    ? null
    : `Darkness is not reckoned: every hour, at night too, is told as if it were day, because nobody said where on earth the camera hangs; say it ${inClipJson('"place": { "latitude": 51.5, "longitude": -3.2 }')}.`;
}

/** How much of it is of use, as far as darkness is reckoned. */
export function darknessText({
  hours,
  limit,
  placeKnown,
  stretches,
}: Pick<SitePlan, 'hours' | 'limit' | 'placeKnown' | 'stretches'>): string {
  if (!placeKnown) return '';
  if (hours.tooDark === 0 && hours.notTold === 0) return '';
  const sentences: string[] = [];
  if (hours.tooDark > 0 && limit) {
    const about =
      limit.lux.value === null
        ? 'in every light that was tried'
        : `below about ${figure(limit.lux.value)} lux`;
    sentences.push(
      `Too dark to be of use in ${plural(hours.tooDark, 'hour')}: blind ${about} in the open (simulated), and earlier in shade.`,
    );
  }
  if (hours.notTold > 0) {
    const why =
      limit?.tells === 'too little' ? '; from which light on it is blind is too little to tell' : '';
    sentences.push(`Of ${plural(hours.notTold, 'hour')} nothing is known${why}.`);
    const dark = hoursInTheDark(stretches);
    if (dark > 0) {
      const all = dark === hours.notTold ? 'It is then' : `In ${dark} of them it is`;
      sentences.push(
        `${all} dusk, dawn or night: a labelled clip recorded at dusk tells of the dim ones${limit ? '' : ', and simulated light from when on the camera is blind'}.`,
      );
    }
  }
  return sentences.join(' ');
}

/** Hours in low light of which nothing is told. */
function hoursInTheDark(stretches: SitePlan['stretches']): number {
  return stretches
    .filter(
      ({ source, controls, conditions }) =>
        source === null && controls !== null && conditions.includes('low light'),
    )
    .reduce((sum, stretch) => sum + stretch.hours, 0);
}

/** What all hours of use bring that something is told of, by what is advised; empty where nothing is. */
export function inAllText(site: Pick<SitePlan, 'tells' | 'week' | 'hours'>): string {
  const { recall, photosOfNothing } = planAdvice(site) === 'change' ? site.week.changing : site.week.one;
  if (!photosOfNothing) return '';
  const visits = recall ? `${percentBetween(recall)} of the visits of those hours and ` : '';
  return `In all ${visits}${roughly(photosOfNothing)} photos of nothing over ${figure(site.hours.ofUse)} hours; in brackets 90 %.`;
}

/** What figures are of: recorded, 2 clips; simulated, on 0:00-1:36 of garden with 4 visits. */
export function sourceText({ source, sample, clips }: SitePlan['kinds'][number]): string {
  if (source === null) return '-';
  if (sample === null) return `${source}, ${plural(clips.length, 'clip')}`;
  const { clip, start, end, visits } = sample;
  const of = `on ${clock(start)}-${clock(end)} of ${clip} with ${plural(visits, 'visit')}`;
  return source === 'both' ? `recorded, and simulated ${of}` : `simulated, ${of}`;
}

/** What a row of hours is called: calm up to Beaufort 3, for to whoever looks out leaves and twigs move all the time in that. */
export function weatherNamed({ weather }: Pick<SitePlan['kinds'][number], 'weather'>): string {
  return weather === 'calm' ? `calm, to Beaufort ${WINDY_FROM - 1}` : weather;
}

/** 80 % (60–92), or a dash. */
export function shareOrDash(of: Between | null): string {
  return of ? percentBetween(of) : '-';
}

export function rateOrDash(of: Between | null): string {
  return of ? figureBetween(of) : '-';
}

/** To two figures: more would promise too much. */
export function roughly(of: Between | null): string {
  const rough = (x: number) => Number(x.toPrecision(2));
  return of ? figureBetween({ value: rough(of.value), low: rough(of.low), high: rough(of.high) }) : '-';
}

/** What all of it rests on, said once. */
export function planRests({ awake, sites }: PlanResult): string {
  const kinds = sites.flatMap((site) => site.kinds);
  const simulated = kinds.filter(({ source }) => source !== null && source !== 'recorded');
  // A kind is named by its wind first: of rain put onto footage of the same wind nothing is said of wind.
  const windIn = (weather: string) => /^wind, [^,]*/.exec(weather)?.[0];
  const recorded = new Set(
    kinds.flatMap(({ source, weather }) => (source === 'recorded' ? [windIn(weather)] : [])),
  );
  const isWindSimulated = simulated.some(({ weather }) => {
    const wind = windIn(weather);
    return wind !== undefined && !recorded.has(wind);
  });
  const two = (hour: number) => `${String(hour).padStart(2, '0')}:00`;
  return [
    'Shares of the visits, not counts, because visits themselves change with the weather; they are taken to come as often as in the recordings. Visits caught by luck, as far as boxes tell, count in what is expected, not in what walks buy.',
    `Walks are between ${two(awake.from)} and ${two(awake.until)} by the clock of the forecast.`,
    ...(simulated.length > 0
      ? [
          'What is simulated rests on assumptions, which are listed in the report, on the page and in the JSON; dials of its own it has only from 20 visits on.',
        ]
      : []),
    // Told as tune tells it.
    ...(isWindSimulated ? [UNRECORDED_WIND] : []),
    ...(simulated.length > 0 ? [offOfHours(simulated)] : []),
  ].join(' ');
}
