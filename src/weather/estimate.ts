import type { Motion } from './foliage/motion.js';
import { daylightLux } from './light/daylight.js';
import { sunAltitude } from './light/sun.js';

/** What can be said of a clip's own wind: a Beaufort number with a range, or why not. */
export type WindEstimate =
  | { kind: 'estimated'; beaufort: number; low: number; high: number }
  | { kind: 'cannot tell'; why: string };

/** Frames a second below which quick sway aliases: branches and twigs go to and fro once or twice a second. */
export const SLOWEST_TOLD = 4;
/** The rate the calibration was made at; motion must be measured between frames about this far apart. */
export const MEASURED_RATE = 5;
const FEWEST_PAIRS = 20;
const LEAST_SHARE = 0.02;

/**
 * Shift between frames a fifth of a second apart, in thousandths of the frame's width, at MEASURED_WIDTH and Beaufort 0, 1, 2, 3, 4: the
 * middle of drawn scenes of three sites with foliage at 1.6 to 3.5 m. From Beaufort 4 on leaves go farther than they are
 * large, and the measure says little more.
 */
const CALIBRATION = [0.15, 0.5, 2.5, 6, 8.5] as const;
/**
 * The wind is weaker than told by no more than so many Beaufort numbers, and stronger by no more than so many and so many times
 * what is told: plants that give little look as if there was less wind, the more the stronger it is. Nothing published gives this
 * spread. It is that of yards drawn by other rules (tests/evaluate/own-wind.eval.ts), and so an assumption; real sites may lie wider.
 */
const WEAKER = 2;
const STRONGER = 1.5;
const STRONGER_TIMES = 1.2;
/** A map that was found may hold much that never sways, which makes the wind look weaker than it is. */
const FOUND_MORE = 2;
const STRONGEST = 9;

/**
 * An estimate of the wind from how foliage moves, on the Beaufort scale.
 * @param motion measured at MEASURED_WIDTH and about MEASURED_RATE
 * @param rate frames per second of the clip
 * @param outlined whether a person outlined the foliage; it was found from the clip otherwise
 */
export function estimateWind(motion: Motion, rate: number, outlined: boolean): WindEstimate {
  if (rate < SLOWEST_TOLD) {
    return unknown(
      `${Number(rate.toPrecision(2))} frames a second are too few: quick sway looks like slow sway below ${SLOWEST_TOLD}`,
    );
  }
  if (motion.pairs < FEWEST_PAIRS) return unknown(`${motion.pairs} pairs of frames are too few`);
  if (motion.share < LEAST_SHARE) {
    return unknown(outlined ? 'too little foliage is outlined' : 'too little of it was seen to sway');
  }
  const shift = 1000 * motion.shift;
  const last = CALIBRATION.length - 1;
  if (shift >= CALIBRATION[last]!) {
    return { kind: 'estimated', beaufort: last + 1, low: last - 1, high: STRONGEST };
  }
  let below = 0;
  while (shift > CALIBRATION[below + 1]!) below++;
  const from = CALIBRATION[below]!;
  const part = Math.max(0, (shift - from) / (CALIBRATION[below + 1]! - from));
  const beaufort = below + part;
  return {
    kind: 'estimated',
    beaufort: tenth(beaufort),
    low: tenth(Math.max(0, beaufort - WEAKER)),
    high: tenth(
      Math.min(STRONGEST, beaufort + STRONGER + STRONGER_TIMES * beaufort + (outlined ? 0 : FOUND_MORE)),
    ),
  };
}

/** Light under a thick cloud cover against that of a clear sky: an assumption of ours. */
export const OVERCAST = 0.1;

/** Degrees, north and east positive. */
export interface Place {
  latitude: number;
  longitude: number;
}

/** Lux in the open at a time and place: from overcast to a clear sky, and the middle of the two in stops. */
export function estimateLight(time: Date, place: Place): { lux: number; low: number; high: number } {
  const high = clearSky(time, place);
  const low = high * OVERCAST;
  return { lux: rounded(Math.sqrt(low * high)), low: rounded(low), high: rounded(high) };
}

/**
 * Lux at another time of a scene whose light is known at one: shade and cloud stay as they were.
 * @returns undefined where there was no daylight to compare with
 */
export function lightAt(
  time: Date,
  place: Place,
  recorded: { time: Date; light: number },
): number | undefined {
  const then = clearSky(recorded.time, place);
  return then > 0 ? rounded((recorded.light * clearSky(time, place)) / then) : undefined;
}

function clearSky(time: Date, { latitude, longitude }: Place): number {
  return daylightLux(sunAltitude(time, latitude, longitude));
}

/** To three figures: no more is known. */
function rounded(lux: number): number {
  return Number(lux.toPrecision(3));
}

function unknown(why: string): WindEstimate {
  return { kind: 'cannot tell', why };
}

function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}
