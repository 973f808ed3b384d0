import { createLowLight } from './light/light.js';
import { DRAWN, offOf, oftenText, swayKnownOf } from './off.js';
import { createRain } from './rain/rain.js';
import type { Assumed, Effect, Setup } from './setup.js';
import { createWind } from './wind/wind.js';

/** Weather ready to be put onto the frames of one clip. */
export interface Weather {
  /**
   * @param y luminance as recorded, `width * height` bytes
   * @param time seconds from the clip's start; rises from call to call
   * @returns luminance in the wanted conditions; the same array every time
   */
  apply(y: Uint8Array, time: number): Uint8Array;
  assumed: Assumed[];
}

/**
 * Wind moves what the light falls on, rain falls before it, and the sensor sees both last: the parts follow one another in
 * that order on unrounded values, and the result is rounded once, halves up.
 */
export function createWeather(setup: Setup): Weather {
  const parts = [createWind(setup), createRain(setup)];
  const effects = parts.flatMap(({ effect }): Effect[] => (effect ? [effect] : []));
  const sensor = createLowLight(setup);
  const picture = new Float32Array(setup.width * setup.height);
  const clamped = new Uint8ClampedArray(picture.length);
  const out = new Uint8Array(clamped.buffer);
  let first: Uint8Array | null = null;
  return {
    assumed: [
      ...new Set([...[...parts, sensor].flatMap(({ assumed }) => assumed), ...atOnce(parts)]),
      ...offText(setup, [parts[0]!.effect, parts[1]!.effect, sensor.effect]),
    ],
    apply(given, time) {
      if (setup.still) first ??= Uint8Array.from(given);
      const y = first ?? given;
      effects.forEach((effect, n) => {
        effect.apply(picture, time, n === 0 ? y : undefined);
      });
      const lit = effects.length > 0 ? picture : y;
      if (sensor.effect) sensor.effect.take(lit, out);
      else if (lit === y) out.set(y);
      else round(picture, clamped);
      return out;
    },
  };
}

/** To whole grey levels, halves up; what cutting off does below 0 is clamped away. Four at a time: going round takes longer. */
function round(picture: Float32Array, out: Uint8ClampedArray): void {
  let i = 0;
  for (; i + 3 < out.length; i += 4) {
    out[i] = (picture[i]! + 0.5) | 0;
    out[i + 1] = (picture[i + 1]! + 0.5) | 0;
    out[i + 2] = (picture[i + 2]! + 0.5) | 0;
    out[i + 3] = (picture[i + 3]! + 0.5) | 0;
  }
  for (; i < out.length; i++) out[i] = (picture[i]! + 0.5) | 0;
}

/** How far off false triggers may be, beside such weather drawn otherwise. */
function offText(
  { to, motion }: Setup,
  [wind, rain, light]: [wind: unknown, rain: unknown, light: unknown],
): Assumed[] {
  const put = {
    ...(wind ? { wind: to.wind } : {}),
    ...(rain ? { rain: to.rain } : {}),
    ...(light ? { light: to.light } : {}),
  };
  const off = offOf(put, swayKnownOf(motion));
  if (!off) return [];
  return [`how far off that leaves it: ${DRAWN} ${oftenText(off)} as simulated`];
}

/** What is to be said of several kinds of weather together. */
function atOnce([wind, rain]: { effect: Effect | null }[]): Assumed[] {
  return wind?.effect && rain?.effect
    ? ['wind and rain at once: each as if alone, never held against a recording of both']
    : [];
}
