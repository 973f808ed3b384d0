/** What an owner wants of a group of settings. */
export type Goal =
  | {
      /** As many visits as there are to be had within so many false triggers per watched hour. */
      kind: 'allowance';
      falsePerHour: number;
      /** With what probability the allowance is to be kept on footage like this; left out: as likely as not. */
      sure?: number;
    }
  | {
      /** Whatever is worth most, where one more visit is worth looking through so many photos of nothing. */
      kind: 'worth';
      photos: number;
      /** Photos that the camera takes at each trigger. */
      photosPerTrigger: number;
    };

/** The most false triggers an hour, or photos a day, that may be allowed, and the fewest that are not none. */
export const MOST_ALLOWED = 1_000_000;
/** Once in so many hours or days is as good as never: no recording could tell the difference. */
export const RAREST_ALLOWED = 0.0001;

/** Whether so many may be allowed. */
export function mayBeAllowed(number: number): boolean {
  return number === 0 || (number >= RAREST_ALLOWED && number <= MOST_ALLOWED);
}

/** What false triggers an owner puts up with, per watched hour. */
export type Allowance = { falsePerHour: number };

/** Whether so many false triggers keep the allowance over the watched time. */
export function keeps(falseTriggers: number, watchedSeconds: number, allowance: Allowance): boolean {
  return falseTriggers <= allowance.falsePerHour * (watchedSeconds / 3600) + 1e-9;
}

/** Whether so many false triggers over the watched time are within the goal: whatever is worth most has no limit. */
export function isWithin(falseTriggers: number, watchedSeconds: number, goal: Goal): boolean {
  return goal.kind === 'worth' || keeps(falseTriggers, watchedSeconds, goal);
}

/** What visits caught are worth less the photos of nothing that come with them; in photos of nothing. */
export function worthOf(
  caught: number,
  falseTriggers: number,
  { photos, photosPerTrigger }: Goal & { kind: 'worth' },
): number {
  return caught * photos - falseTriggers * photosPerTrigger;
}

/**
 * What settings give, in visits: those they catch of their own, and by worth those less what their photos of nothing come to.
 *
 * @param own visits caught, not by luck
 */
export function visitsGiven(own: number, falseTriggers: number, goal: Goal): number {
  return goal.kind === 'allowance' ? own : worthOf(own, falseTriggers, goal) / goal.photos;
}

/** What one setting gives, by its counts. */
export function givenBy(
  { own, falseTriggers }: Record<'own' | 'falseTriggers', ArrayLike<number>>,
  setting: number,
  goal: Goal,
): number {
  return visitsGiven(own[setting]!, falseTriggers[setting]!, goal);
}

/**
 * Watched hours before an allowance can be told at all: none seen in H hours still leaves up to 3/H an hour, the rule
 * of three (Hanley & Lippman-Hand 1983, JAMA 249:1743-1745). Infinite for an allowance of 0.
 */
export function hoursToTell(allowance: Allowance): number {
  return allowance.falsePerHour > 0 ? 3 / allowance.falsePerHour : Number.POSITIVE_INFINITY;
}
