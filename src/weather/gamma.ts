/** Signal to linear light, both 0 to 1 (sRGB, IEC 61966-2-1). */
export function linearOf(signal: number): number {
  return signal <= 0.04045 ? signal / 12.92 : ((signal + 0.055) / 1.055) ** 2.4;
}

/** Linear light to signal, both 0 to 1 (sRGB, IEC 61966-2-1). */
export function signalOf(light: number): number {
  return light <= 0.0031308 ? light * 12.92 : 1.055 * light ** (1 / 2.4) - 0.055;
}

/** Steps of the tables below for one grey level, and over all of linear light; the dark end of the curve is steep. */
export const SIGNAL_STEPS = 16;
export const LIGHT_STEPS = 16_384;

/** Linear light (0 to 1) of a signal (0 to 255), at index signal * SIGNAL_STEPS + 0.5: within 0.04 grey levels. */
export const lightOfSignal = Float32Array.from({ length: 255 * SIGNAL_STEPS + 1 }, (_, i) =>
  linearOf(i / (255 * SIGNAL_STEPS)),
);

/** Signal (0 to 255) of linear light (0 to 1), at index light * LIGHT_STEPS + 0.5: within 0.11 grey levels. */
export const signalOfLight = Float32Array.from(
  { length: LIGHT_STEPS + 1 },
  (_, i) => 255 * signalOf(i / LIGHT_STEPS),
);
