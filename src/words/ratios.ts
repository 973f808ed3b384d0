import type { Settings } from '../camera/settings.js';
import type { Rate, Ratio } from '../score/intervals.js';
import type { Score } from '../score/score.js';
import type { Unseen } from '../tune/unseen.js';
import { figure, figureBetween, percentBetween } from './wording.js';

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
 * False triggers an hour, and where a trigger takes several photos what they come to: 4.8 (0.9–15), 9.6 photos; a dash where
 * nothing was watched.
 */
export function falseAnHour(r: Told | null, photosPerTrigger: number): string {
  return r ? `${rate(r)}${inPhotos(r.value, photosPerTrigger)}` : rate(r);
}

/** , 12 photos; nothing where each trigger takes one. */
function inPhotos(triggers: number, photosPerTrigger: number): string {
  if (photosPerTrigger === 1) return '';
  const photos = figure(triggers * photosPerTrigger);
  return `, ${photos} ${photos === '1' ? 'photo' : 'photos'}`;
}

type Told = Pick<Rate, 'value' | 'low' | 'high'>;
type Cooled = Pick<Settings, 'cooldown'>;

/**
 * A rate with the interval by bouts, for false triggers come in bunches.
 * @param settings those that were scored, whose cooldown bounds the interval
 */
export function byBouts({ falsePerHour }: Pick<Score, 'falsePerHour'>, settings: Cooled): Told | null {
  return falsePerHour && withinCooldown({ ...falsePerHour, ...falsePerHour.bouts }, settings);
}

/** Of several groups of settings the one that can fire most often. */
export function quickest(settings: readonly Cooled[]): Cooled {
  return {
    cooldown: settings.reduce((least, { cooldown }) => Math.min(least, cooldown), Number.POSITIVE_INFINITY),
  };
}

/**
 * False triggers an hour as foretold for some settings. Each choice that it rests on was made anew, maybe with a shorter cooldown:
 * these settings cannot fire more often than theirs lets them. Null: too little to tell.
 */
export function foretold({
  unseen: { falsePerHour },
  settings,
}: {
  unseen: Pick<Unseen, 'falsePerHour'>;
  settings: Cooled;
}): Told | null {
  const held = (triggers: number) => Math.min(triggers, mostAnHour(settings));
  return (
    falsePerHour && {
      value: held(falsePerHour.value),
      low: held(falsePerHour.low),
      high: held(falsePerHour.high),
    }
  );
}

/** How many triggers an hour a cooldown (s) leaves room for; infinitely many where there is none. */
export function mostAnHour({ cooldown }: Cooled): number {
  return cooldown > 0 ? 3600 / cooldown : Number.POSITIVE_INFINITY;
}

/**
 * A rate of triggers an hour whose interval ends where the cooldown (s) ends what can be: chance knows no cooldown. The rate itself
 * was counted and stays, also where a trigger at the edge of a short stretch makes it more than that.
 */
export function withinCooldown<R extends Pick<Rate, 'value' | 'low' | 'high'>>(told: R, settings: Cooled): R {
  return { ...told, high: Math.max(told.value, Math.min(told.high, mostAnHour(settings))) };
}
