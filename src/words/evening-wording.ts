import { figure, plural } from '../base/figures.js';
import type { ConditionTold, EveningResult, PromiseTold, Withheld } from '../jobs/evening.js';
import type { PartTold } from '../outing/evening/parts.js';
import { HOUR } from '../outing/evening/photo.js';
import { leastPromised } from '../outing/evening/verdict.js';
import type { Rate } from '../score/intervals.js';
import { share } from './ratios.js';
import { figureBetween } from './wording.js';

/** Said wherever people may be in the photos; local rules go before it. */
export const PEOPLE_CAUTION =
  'Where people may be in the photos: point the camera where none pass, tell those who may be in view, delete photos of people that you do not need, and keep to the rules where you live on filming and on keeping such pictures.';

/** Sat 9 May 2026 */
export function dayText(time: number): string {
  const [week, day, month, year] = new Date(time * 1000).toUTCString().replace(',', '').split(' ');
  return `${week} ${Number(day)} ${month} ${year}`;
}

/** 06:02 */
export function hourText(time: number): string {
  return new Date(time * 1000).toISOString().slice(11, 16);
}

/** 06:02-20:51, with days where it is more than one. */
export function spanText({ from, until }: { from: number; until: number }): string {
  const [first, last] = [dayText(from), dayText(until)];
  if (first === last) return `${first}, ${hourText(from)}-${hourText(until)}`;
  return `${first}, ${hourText(from)} to ${last}, ${hourText(until)}`;
}

/** 06:00-07:00 */
export function partText({ from, until }: { from: number; until: number }): string {
  return `${hourText(from)}-${hourText(until)}`;
}

/** Tue 4 May 06:00-09:00, with the day of its end where that is another. */
export function dayPartText({ from, until }: { from: number; until: number }): string {
  const day = (time: number) => dayText(time).replace(/ \d+$/, '');
  const end = dayText(from) === dayText(until) ? '' : `${day(until)} `;
  return `${day(from)} ${hourText(from)}-${end}${hourText(until)}`;
}

/**
 * Of photos that are shown together: 06:00-07:00, with its day where there are several.
 * @param hour hours since 1970; null for photos without a time
 * @param times of all photos
 */
export function hourTitle(hour: number | null, times: readonly (number | null)[]): string {
  if (hour === null) return 'no time known';
  const known = times.flatMap((time) => time ?? []);
  const days = known.length > 0 && dayText(known[0]!) !== dayText(known.at(-1)!);
  const [from, until] = [hour * HOUR, (hour + 1) * HOUR];
  return `${days ? `${dayText(from)}, ` : ''}${hourText(from)}-${hourText(until)}`;
}

/** 412 photos: 31 of animals, 377 of nothing, 4 of people, 12 not marked */
export function countsText({ photos, animal, nothing, person, unmarked }: EveningResult): string {
  const marked = animal + nothing + person > 0;
  if (!marked) return plural(photos, 'photo');
  return [
    `${plural(photos, 'photo')}: ${animal} of animals, ${nothing} of nothing`,
    ...(person > 0 ? [`${person} of people`] : []),
    ...(unmarked > 0 ? [`${unmarked} not marked`] : []),
  ].join(', ');
}

/** A rate with its interval by bouts; its range alone where some photos may be of nothing. */
export function perHourText(rate: Rate | null, untold = 0): string {
  if (!rate) return '-';
  const { value, low, high } = { ...rate, ...rate.bouts };
  return untold > 0 ? `${figure(low)}–${figure(high)}` : figureBetween({ value, low, high });
}

/** The answer in a few words, for a heading. */
export function verdictHeading({
  verdict,
  promised,
  out,
}: Pick<EveningResult, 'verdict' | 'promised' | 'out'>): string {
  if (promised?.withheld === 'promise too wide') return 'The promise was too wide to be kept or broken';
  if (promised?.withheld) return 'Not held against the promise yet';
  if (!promised || verdict === null) return 'Nothing to hold it against';
  if (out === null) return 'Too little to tell';
  if (promised.nothingPerHour === null) return 'Nothing to hold it against';
  const headings = {
    held: 'As promised',
    better: 'Better than promised',
    worse: 'Worse than promised',
    'too little to tell': 'Too little to tell whether it was as promised',
  };
  return headings[verdict];
}

/** What whoever reads it does to say what is missing. */
export interface EveningWays {
  hours: string;
  clock: string;
  camera: string;
}

const BY_OPTIONS: EveningWays = {
  hours: 'add --from and --until',
  clock: 'say with --clock what that is ahead of UTC, such as --clock +01:00, or --clock Z',
  camera: 'name the camera that took them with --camera',
};

/** What the verdict rests on. @param ways left out: as on the command line */
export function verdictText(
  { verdict, promised, unmarked, next, byStretch, out }: EveningResult,
  ways: EveningWays = BY_OPTIONS,
): string {
  if (promised?.withheld) return withheldText(promised.withheld, promised, ways);
  if (!promised || verdict === null)
    return 'Without a promise, which is what tune or plan printed as JSON, there is nothing to hold the photos against.';
  const { nothingPerHour: said, came } = promised;
  if (out === null) {
    return `The photos alone do not tell how long the camera was out: ${ways.hours}, or give more of them.`;
  }
  if (said === null) return 'Nothing was promised for the hours that the camera was out.';
  const promisedText = `${figureBetween(said)} were promised`;
  if (came === null) return `How often photos of nothing came cannot be told; ${promisedText}.`;
  const { untold } = promised;
  const open = untold > 0 ? ` (whatever the ${plural(untold, 'photo')} show that may be of nothing)` : '';
  const both = `${perHourText(came, untold)} photos of nothing an hour${open}, where ${promisedText}`;
  const hours = hoursText(promised.hours);
  switch (verdict) {
    case 'held':
      return `${both}, over ${hours}.`;
    case 'worse':
      return `${both}, over ${hours}${worst(byStretch, next)}. Were the promise true, so many would come at most once in twenty.`;
    case 'better':
      return `${both}, over ${hours}. Were the promise true, so few would come at most once in twenty.`;
    case 'too little to tell':
      return `${both}, over ${hours}. ${whyNotTold(promised, unmarked)}`;
  }
}

function withheldText(
  why: Withheld,
  { photosPerTrigger, nothingPerHour, came, hours, untold }: PromiseTold,
  ways: EveningWays,
): string {
  switch (why) {
    case 'promise too wide':
      return `${perHourText(came, untold)} photos of nothing an hour came over ${hoursText(hours)}, where anything from ${figure(nothingPerHour?.low ?? 0)} to ${figure(nothingPerHour?.high ?? 0)} was promised. A longer labelled recording makes it narrower.`;
    case 'clock not known':
      return `The plan is in UTC, and the photos are by the camera's clock: ${ways.clock} where it shows UTC, which winter time in the British Isles is.`;
    case 'photos a trigger not known':
      return `What was promised counts triggers, and neither its file nor the photos tell how many photos the camera takes at each: ${ways.camera}.`;
    case 'other photos a trigger':
      return `What was promised is for ${plural(photosPerTrigger ?? 0, 'photo')} a trigger, but nearly all of these photos came otherwise: ${ways.camera}.`;
  }
}

/** The stretch of a plan in which the promise was broken most. */
function worst(byStretch: EveningResult['byStretch'], next: EveningResult['next']): string {
  const part = byStretch?.find(({ from }) => from === next?.from);
  if (!part?.promised || next?.why !== 'came oftener than promised') return '';
  const weather = part.conditions ? ` (${part.conditions.join(', ')})` : '';
  return `; ${spanText(part)}${weather}, ${perHourText(part.nothingPerHour)} where ${figureBetween(part.promised)} were promised`;
}

function whyNotTold(
  { untold, hoursToTell, hours, came, nothingPerHour }: PromiseTold,
  unmarked: number,
): string {
  if (untold > 0) {
    const mark = unmarked > 0 ? '; mark those that are not marked' : '';
    return `It turns on ${plural(untold, 'photo')} that may be of nothing, because nobody has marked ${untold === 1 ? 'it' : 'them'} or the time is not known${mark}.`;
  }
  if (came && nothingPerHour && (came.bouts?.high ?? came.high) < leastPromised(nothingPerHour)) {
    return 'Fewer came than was to be expected, but the promise reaches so far down that this cannot be called better; more labelled recording makes it narrower.';
  }
  if (hoursToTell === null) return 'So many bunches come that a month out would hardly tell.';
  return hoursToTell > hours
    ? `Were it as promised, some ${hoursText(hoursToTell)} out would tell; these were ${hoursText(hours)}.`
    : 'What came lies near the end of what was promised; another evening tells more.';
}

/** 4.8 hours; 12 minutes. */
export function hoursText(hours: number): string {
  if (hours < 1) return plural(Math.max(1, Math.round(60 * hours)), 'minute');
  return plural(Number(figure(hours)), 'hour');
}

/** The share of animals, by photos and by bouts. */
export function precisionText({ precision, animal, nothing }: EveningResult): string {
  if (!precision) return 'No photo is marked as one of an animal or of nothing yet.';
  const bouts = precision.bouts
    ? `, or ${Math.round(100 * precision.bouts.low)}–${Math.round(100 * precision.bouts.high)} with bunches of photos within 30 s as one`
    : '';
  return `Of ${plural(animal + nothing, 'photo')} that ${animal + nothing === 1 ? 'counts' : 'count'}, ${share(precision)} ${animal === 1 ? 'shows an animal' : 'show animals'}${bouts}.`;
}

/** What was not marked, outside, or without a promise: a line each. */
export function asideTexts({
  unmarked,
  animal,
  nothing,
  person,
  outside,
  promised,
}: EveningResult): string[] {
  const marked = animal + nothing + person > 0;
  return [
    ...(marked && unmarked > 0
      ? [
          `${plural(unmarked, 'photo')} not marked ${unmarked === 1 ? 'counts' : 'count'} for nothing here: shares are right only if those marked were not picked.`,
        ]
      : []),
    ...(outside > 0
      ? [
          `${plural(outside, 'photo')} from before or after the hours given ${outside === 1 ? 'is' : 'are'} left out.`,
        ]
      : []),
    ...(promised?.nothingPerHour && promised.hoursWithout > 0.02
      ? [
          `For ${hoursText(promised.hoursWithout)} of those out nothing was promised; they are left out of the verdict.`,
        ]
      : []),
  ];
}

/** Which stretch to record next, and why; null where nothing tells. */
export function nextText({ next, byStretch }: EveningResult): string | null {
  if (!next) return null;
  const when = byStretch ? spanText(next) : partText(next);
  const weather = next.conditions && next.conditions.length > 0 ? ` (${next.conditions.join(', ')})` : '';
  const like = byStretch ? `what was like ${when}${weather}` : `between ${when.replace('-', ' and ')}`;
  const why = {
    'came oftener than promised': 'photos of nothing came oftener than was promised',
    'nothing was promised': 'nothing was promised for it, and photos of nothing came',
    'most of nothing': 'most photos of nothing an hour came then',
    'least told': 'the promise says least of it',
  }[next.why];
  return `Record next ${like}: ${why}. An hour of recording then, labelled, is what tune learns most from.`;
}

/** A table of what was seen in each hour of the day: its heads, and a row an hour. */
export function hourRows(parts: readonly PartTold[]): { heads: string[]; rows: string[][] } {
  const people = parts.some(({ person }) => person > 0);
  const open = parts.some(({ unmarked }) => unmarked > 0);
  return {
    heads: [
      'hour',
      'animal',
      'nothing',
      ...(people ? ['person'] : []),
      ...(open ? ['no mark'] : []),
      'animals, 90 %',
      'nothing/hour',
    ],
    rows: parts.map((part) => [
      partText(part),
      String(part.animal),
      String(part.nothing),
      ...(people ? [String(part.person)] : []),
      ...(open ? [String(part.unmarked)] : []),
      share(part.precision),
      perHourText(part.nothingPerHour, part.unmarked),
    ]),
  };
}

/** A table of what came in each stretch of a plan against what was promised. */
export function stretchRows(parts: readonly PartTold[]): { heads: string[]; rows: string[][] } {
  const days = dayText(parts[0]!.from) !== dayText(parts.at(-1)!.until);
  return {
    heads: ['planned', 'weather', 'nothing/hour', 'promised'],
    rows: parts.map((part) => [
      days ? dayPartText(part) : partText(part),
      part.conditions?.join(', ') ?? '-',
      perHourText(part.nothingPerHour, part.unmarked),
      part.promised ? figureBetween(part.promised) : '-',
    ]),
  };
}

/** A table by weather: its heads, and a row a kind. */
export function conditionRows(conditions: readonly ConditionTold[]): { heads: string[]; rows: string[][] } {
  return {
    heads: ['weather foretold', 'hours', 'animals, 90 %', 'nothing/hour'],
    rows: conditions.map(({ conditions: kind, hours, precision, nothingPerHour, unmarked }) => [
      kind,
      figure(hours),
      share(precision),
      perHourText(nothingPerHour, unmarked),
    ]),
  };
}
