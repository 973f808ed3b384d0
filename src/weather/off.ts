import type { Conditions, SiteMotion } from './setup.js';

/** How it is known how far things sway in simulated wind: measured on a calm clip and a windy one, on one clip, or not. */
export type SwayKnown = 'two clips' | 'one clip' | 'assumed';

/** Between which multiples of the simulated false triggers those of such weather lay. */
export interface Off {
  low: number;
  high: number;
}

/** The share of settings that lay between the two. */
export const OFF_SHARE = 0.8;

/**
 * False triggers in gardens drawn by another renderer over those in the same weather simulated on their calm day, at settings that
 * fired four times or more in 90 s as simulated and were not saturated: the tenth and ninetieth hundredth
 * (tests/evaluate/RESULTS.md, "How far off the rest may be"). Other drawings, not real gardens; chance of 90 s is in them.
 */
const WIND: Record<SwayKnown, readonly { upTo: number; off: Off }[]> = {
  'two clips': [
    { upTo: 4, off: { low: 0.4, high: 4 } },
    { upTo: 6, off: { low: 0.2, high: 2 } },
  ],
  'one clip': [
    { upTo: 4, off: { low: 0.1, high: 2 } },
    { upTo: 6, off: { low: 0.05, high: 1.5 } },
  ],
  assumed: [
    { upTo: 4, off: { low: 0.1, high: 2 } },
    { upTo: 6, off: { low: 0.05, high: 1.5 } },
  ],
};
/** Held against drawings in 4 mm/h. */
const RAIN: Off = { low: 0.3, high: 1.5 };
const HEAVIEST = 8;
/** Held against drawings in 20 lux. */
const DIM: Off = { low: 0.5, high: 3 };
const DARKEST = 5;

/**
 * How far off false triggers in simulated weather may be.
 * @param to what was put onto a clip
 * @returns null where such weather, or so much of it, or several kinds at once, was held against no drawing
 */
export function offOf({ wind, rain, light }: Conditions, sway: SwayKnown): Off | null {
  const kinds = [wind, rain, light].filter((one) => one !== undefined).length;
  if (kinds !== 1) return null;
  if (wind !== undefined) return WIND[sway].find(({ upTo }) => wind <= upTo)?.off ?? null;
  if (rain !== undefined) return rain <= HEAVIEST ? RAIN : null;
  return light! >= DARKEST ? DIM : null;
}

export function swayKnownOf(motion: Pick<SiteMotion, 'onTwo'> | undefined): SwayKnown {
  if (!motion) return 'assumed';
  return motion.onTwo ? 'two clips' : 'one clip';
}

/** Between which counts a simulated one lay; half a trigger is added to both sides, as it was when that was measured. */
export function countsWithin(count: number, { low, high }: Off): Off {
  const of = (times: number) => Math.max(0, (count + 0.5) * times - 0.5);
  return { low: of(low), high: of(high) };
}

/** Between a third and twice as often. */
export function oftenText({ low, high }: Off): string {
  return `between ${timesText(low)} and ${timesText(high)} as often`;
}

/** As a fraction or a multiple, to two figures: 0.3 times, 2.5 times. */
function timesText(times: number): string {
  return `${Number(times.toPrecision(2))} times`;
}
