import { plural, significant } from '../../base/figures.js';
import type { Camera } from '../../camera/description.js';
import type { Told } from '../../fit/fired/told.js';

/** What photos or times were counted by. */
export interface Counting {
  what: 'photo' | 'fired time';
  /** Null: no description was given. */
  base: Pick<Camera, 'name' | 'burst'> | null;
  /** Photos a trigger, as the owner says; left out: nobody says. */
  said: number | undefined;
}

/** How photos were counted as triggers, always, and what of the camera's description they contradict. */
export function countedNotes(
  { given, times, burst }: Pick<Told, 'given' | 'times' | 'burst'>,
  { what, base, said }: Counting,
): string[] {
  const each = burst?.photos ?? 1;
  const all = plural(given, what);
  const bySay = said === undefined ? '' : ', as you say';
  const otherwise =
    said === undefined
      ? '; where the camera takes several each time it fires, say how many photos a trigger'
      : '';
  const counted = burst
    ? `${all}, ${each} a trigger${bySay}, ${significant(burst.interval, 2)} s apart: ${plural(times.length, 'trigger')}, each at its first photo`
    : `${all}, each taken as a trigger of its own${bySay}${otherwise}`;
  if (!base || base.burst.photos === each) return [counted];
  const claims = `${base.name} is described as taking ${plural(base.burst.photos, 'photo')} a trigger (its burst)`;
  return [
    counted,
    said === undefined
      ? `${claims}, but these came ${each} a trigger, and are counted so; if the description is right, say how many photos a trigger it takes`
      : `${claims}, not ${said} as you say; correct its burst if it is wrong`,
  ];
}
