import { inClipJson } from '../base/about-clip.js';
import type { SiteResult } from '../jobs/tune.js';
import { FEWEST_CAUGHT } from '../tune/limit.js';
import { FEWEST_TO_TELL } from '../tune/tells.js';
import type { Daytime } from '../weather/light/times-of-use.js';
import { figure, plural } from './wording.js';

type Limit = NonNullable<SiteResult['limit']>;

/** Down to which light the camera is of use, and until when that is; empty where no light was simulated. */
export function explainLimit({ limit, worth }: Pick<SiteResult, 'limit' | 'worth'>): string[] {
  if (!limit) return [];
  const noSettings = worth
    ? 'no settings are worth half of what the best are worth in the light of the recording'
    : 'no settings that keep the allowance catch half of what the best catch in the light of the recording';
  const { tells, lux, levels } = limit;
  if (tells === 'too little') return [`${tooLittleText(limit)}${leftOutText(limit)}`];
  if (lux.value === null) {
    return [
      `In simulated light of ${figure(levels[0]!.lux)} lux and less the camera is blind: ${noSettings} (${rangeText(limit)}). ${ALONE}${leftOutText(limit)}`,
    ];
  }
  if (tells === 'no limit') {
    return [
      `Of use down to ${figure(lux.value)} lux at least, simulated: no less was tried.${leftOutText(limit)}`,
    ];
  }
  return [
    `Of use down to about ${figure(lux.value)} lux (${rangeText(limit)}), then blind: in simulated light below that ${noSettings}. ${ALONE}${leftOutText(limit)}`,
    whenText(limit),
  ];
}

/** What the range leaves out. */
const ALONE =
  'The range is by the number of visits alone: the light was drawn once, and how far lens, exposure and sensor are off where they are assumed is not in it.';

function tooLittleText({ clip, visits, inWhole, inFullLight, fullLight, levels }: Limit): string {
  const open = 'From which light on the camera is blind is too little to tell:';
  if (visits < FEWEST_TO_TELL) {
    if (inWhole !== null && inWhole >= FEWEST_TO_TELL) {
      return `${open} the stretch of ${clip} that less light would be put onto holds ${plural(visits, 'visit')} of ${inWhole}, and it takes ${FEWEST_TO_TELL}. All of the clip takes longer: it is looked through where coming days are planned.`;
    }
    return `${open} the stretch of ${clip} that less light would be put onto holds ${plural(visits, 'visit')}, and it takes ${FEWEST_TO_TELL}. A longer stretch with more visits would tell.`;
  }
  if (levels.length === 0) {
    return `${open} ${clip} was recorded in ${figure(fullLight)} lux, too dark to take light from. A clip in more light would tell.`;
  }
  return `${open} of the ${plural(visits, 'visit')} in the stretch of ${clip} that less light was put onto, the best settings catch ${inFullLight} as recorded, and it takes ${FEWEST_CAUGHT}. A stretch with more visits that are caught would tell.`;
}

/** Which clip it is of, where there are several. */
function leftOutText({ clip, leftOut }: Limit): string {
  return leftOut.length === 0 ? '' : ` This is of ${clip} alone, not of ${leftOut.join(', ')}.`;
}

/** The same on one line, for a card; null where there is nothing to be said. */
export function limitLine({ limit }: Pick<SiteResult, 'limit'>): string | null {
  if (limit?.tells !== 'a limit' || limit.lux.value === null) return null;
  const below = `Blind below about ${figure(limit.lux.value)} lux (simulated).`;
  return limit.times ? `${below} ${whenText(limit)}` : below;
}

function rangeText({ lux: { value, low, high }, levels }: Limit): string {
  if (value === null) {
    if (low === null) return '90 %: perhaps in none of them';
    return low === levels[0]!.lux ? '90 %: surely' : `90 %: perhaps only from ${figure(low)} lux down`;
  }
  const from = low === null ? `less than ${figure(levels.at(-1)!.lux)}` : figure(low);
  return `90 %: ${from} to ${high === null ? 'more than was tried' : figure(high)}`;
}

function whenText({ times, missing }: Limit): string {
  const needed = missing.filter((field) => field !== 'conditions.light');
  if (!times) {
    return `Until when that is, is told by its ${needed.join(' and ')}: write ${needed.length === 1 ? 'it' : 'them'} ${inClipJson(needed.join(', '))}.`;
  }
  const { date, zone, clear, overcast } = times;
  return `On ${date} it is of use ${dayText(clear)} under a clear sky in the open, ${dayText(overcast)} under thick cloud, and for less in shade (clock of ${zone}); then blind.`;
}

function dayText(day: Daytime | null): string {
  if (day === null) return 'never';
  return day === 'all day' ? day : `from ${day.from} to ${day.until}`;
}
