import type { TuneResult } from '../jobs/tune.js';
import { figure } from './ratios.js';

/** What the battery was asked for, how long it lasts with what is recommended, and what was taken to be so. */
export function batteryText({ asked, sites, assumed }: NonNullable<TuneResult['battery']>): string[] {
  const each = sites.map(({ site, hours, photosPerHour }) => {
    const where = sites.length > 1 ? ` (${site ?? 'no site named'})` : '';
    if (!hours || !photosPerHour)
      return `How long it lasts${where} cannot be told, because nothing was watched.`;
    const short =
      hours.value < asked
        ? ' That is less than was asked: no settings keep it here, or what is foretold is more than was seen on these clips.'
        : '';
    return `With these settings${where} it lasts about ${figure(hours.value)} hours (${figure(hours.low)}–${figure(hours.high)}) at ${figure(photosPerHour.value)} photos an hour, those at visits too, were all days like these clips.${short}`;
  });
  return [
    `The battery is to last ${figure(asked)} hours.`,
    ...each,
    ...(assumed.length > 0
      ? [`This was taken as usual, because camera.json does not say: ${assumed.join('; ')}.`]
      : []),
  ];
}
