import { assumptionOf } from '../assumptions.js';
import type { Optics } from '../setup.js';
import type { NoiseLine } from './noise-line.js';

/** Of a small fixed lens; taken where an aperture is neither doubted nor told. */
const F_NUMBER = assumptionOf('aperture').figure;
/** Speed of the sensor at gain 1; assumed. */
export const BASE_SPEED = 100;
/** Elements that the sensor reads across a picture (it skips or sums the others); assumed. What a pixel averages follows. */
export const READ_ACROSS = 960;
/** Incident-light constant, lux seconds (ISO 2720). */
const C = 250;
/** Red, green and blue are read one by one, each with a noise of its own; their BT.601 sum keeps this share of its variance. */
export const COLOUR_SHARE = 0.299 ** 2 + 0.587 ** 2 + 0.114 ** 2;

/** How a camera takes a scene. */
export interface Exposure {
  seconds: number;
  gain: number;
  /** Brightness of the picture against a right exposure: below 1 where time and gain are at their limits. */
  level: number;
}

/** Light in which exposure value `ev` (for speed 100) is right, lux: E = C 2^EV / S (ISO 2720). */
export function luxAt(ev: number): number {
  return (C * 2 ** ev) / BASE_SPEED;
}

/** Seconds that are right at gain 1. 2^EV = N^2 / t (ISO 2720). */
export function rightExposure(lux: number, aperture: number = F_NUMBER): number {
  return (luxAt(0) * aperture ** 2) / lux;
}

/**
 * Exposure grows to its limit first, then gain, then the picture darkens.
 * @param lux at the scene
 * @param rate frames per second; no exposure is longer than a frame
 * @param aperture f-number of the lens
 */
export function exposureAt(lux: number, optics: Optics, rate: number, aperture: number = F_NUMBER): Exposure {
  const wanted = rightExposure(lux, aperture);
  const longest = Math.min(optics.longest, 1 / rate);
  const seconds = Math.min(wanted, longest);
  const gain = Math.min(Math.max(1, wanted / seconds), optics.mostGain);
  return { seconds, gain, level: Math.min(1, (seconds * gain) / wanted) };
}

/**
 * Variance in digital numbers squared by the linear model of EMVA 1288 R3.1 (from memory), K^2 sd^2 + K (mu - mu_dark),
 * without its 1/12 for the rounding of a linear converter: of a stored picture it is grey levels that are rounded, which
 * storing does and measuring takes off.
 *
 * @param mean digital numbers above dark
 * @param k system gain, digital numbers per electron
 * @param sd dark noise, electrons
 */
export function noiseVariance(mean: number, k: number, sd: number): number {
  return k * k * sd * sd + k * mean;
}

/**
 * Variance of a pixel's luminance in linear light, where 1 is the full well at gain 1.
 * @param light 0 to 1
 * @param width of the picture, pixels
 */
export function lightVariance(light: number, gain: number, optics: Optics, width: number): number {
  const k = (255 / optics.fullWell) * gain;
  return noiseVariance(255 * light, k, optics.readNoise) * shareAt(width);
}

/** Of an element's variance, digital numbers squared, what a pixel's luminance has, in linear light where 1 is 255. */
function shareAt(width: number): number {
  return COLOUR_SHARE / Math.max(1, (READ_ACROSS / width) ** 2) / 255 ** 2;
}

/**
 * Full well and read noise of the elements of a sensor whose luminance has this noise; the inverse of `lightVariance`.
 * @param line with a slope above 0
 * @param gain that it was recorded with
 * @param width of the picture it was measured on, pixels
 */
export function elementsOf(
  line: NoiseLine,
  gain: number,
  width: number,
): Pick<Optics, 'fullWell' | 'readNoise'> {
  const k = line.slope / (255 * shareAt(width));
  return { fullWell: (255 * gain) / k, readNoise: Math.sqrt(line.floor / shareAt(width)) / k };
}
