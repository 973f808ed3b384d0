import type { Settings } from '../camera/settings.js';
import type { Rate, Ratio } from '../score/intervals.js';
import type { Score } from '../score/score.js';
import { figureBetween, percentBetween } from './wording.js';

export { clock, dialsText, figure, plural } from './wording.js';

/** 79 % (66–88), or a dash where there is nothing to take a share of. */
export function share(ratio: Ratio | null): string {
  return ratio ? percentBetween(ratio) : '-';
}

/** 4.8 (0.9–15), or a dash where nothing was watched. */
export function rate(r: Pick<Rate, 'value' | 'low' | 'high'> | null): string {
  return r ? figureBetween(r) : '-';
}

/**
 * A rate with the interval by bouts, for false triggers come in bunches.
 * @param settings those that were scored, whose cooldown bounds the interval; left out where several were
 */
export function byBouts(
  { falsePerHour }: Pick<Score, 'falsePerHour'>,
  settings: Pick<Settings, 'cooldown'> = { cooldown: 0 },
): Pick<Rate, 'value' | 'low' | 'high'> | null {
  return falsePerHour && withinCooldown({ ...falsePerHour, ...falsePerHour.bouts }, settings);
}

/**
 * A rate of triggers an hour whose interval ends where the cooldown (s) ends what can be: chance knows no cooldown. The rate itself
 * was counted and stays, also where a trigger at the edge of a short stretch makes it more than that.
 */
export function withinCooldown<R extends Pick<Rate, 'value' | 'low' | 'high'>>(
  told: R,
  { cooldown }: Pick<Settings, 'cooldown'>,
): R {
  const most = cooldown > 0 ? 3600 / cooldown : Number.POSITIVE_INFINITY;
  return { ...told, high: Math.max(told.value, Math.min(told.high, most)) };
}
