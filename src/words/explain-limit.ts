import type { SiteResult } from '../jobs/tune.js';
import { FEWEST_TO_TELL } from '../tune/tells.js';
import type { Daytime } from '../weather/times-of-use.js';
import { figure, plural } from './wording.js';

type Limit = NonNullable<SiteResult['limit']>;

/** Down to which light the camera is of use, and until when that is; empty where no light was simulated. */
export function explainLimit({ limit, worth }: Pick<SiteResult, 'limit' | 'worth'>): string[] {
  if (!limit) return [];
  const noSettings = worth
    ? 'no settings are worth half of what the best are worth in the light of the recording'
    : 'no settings that keep the allowance catch half of what the best catch in the light of the recording';
  const { tells, lux, levels, visits } = limit;
  if (tells === 'too little') {
    return [
      `From which light on the camera is blind is too little to tell: the stretch that less light would be put onto holds ${plural(visits, 'visit')}, and it takes ${FEWEST_TO_TELL} that are caught in full light. A longer stretch with more visits would tell.`,
    ];
  }
  if (lux.value === null) {
    return [
      `In simulated light of ${figure(levels[0]!.lux)} lux and less the camera is blind: ${noSettings} (${rangeText(limit)}).`,
    ];
  }
  if (tells === 'no limit') {
    return [`Of use down to ${figure(lux.value)} lux at least, simulated: no less was tried.`];
  }
  return [
    `Of use down to about ${figure(lux.value)} lux (${rangeText(limit)}), then blind: in simulated light below that ${noSettings}.`,
    whenText(limit),
  ];
}

/** The same on one line, for a card; null where there is nothing to be said. */
export function limitLine({ limit }: Pick<SiteResult, 'limit'>): string | null {
  if (limit?.tells !== 'a limit' || limit.lux.value === null) return null;
  const below = `Blind below about ${figure(limit.lux.value)} lux (simulated).`;
  return limit.times ? `${below} ${whenText(limit)}` : below;
}

function rangeText({ lux: { low, high } }: Limit): string {
  if (high === null) return low === null ? '90 %: brighter' : `90 %: perhaps down to ${figure(low)}`;
  return low === high
    ? `90 %: ${figure(high)}`
    : `90 %: ${low === null ? 0 : figure(low)} to ${figure(high)}`;
}

function whenText({ times, missing }: Limit): string {
  const needed = missing.filter((field) => field !== 'conditions.light');
  if (!times) {
    return `Until when that is: write ${needed.join(' and ')} into clip.json.`;
  }
  const { date, zone, clear, overcast } = times;
  return `On ${date} it is of use ${dayText(clear)} under a clear sky in the open, ${dayText(overcast)} under thick cloud, and for less in shade (clock of ${zone}); then blind.`;
}

function dayText(day: Daytime | null): string {
  if (day === null) return 'never';
  return day === 'all day' ? day : `from ${day.from} to ${day.until}`;
}
