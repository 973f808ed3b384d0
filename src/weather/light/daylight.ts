/** Above which altitude (degrees) a row holds, and its l0 to l3. */
const ROWS: readonly (readonly [above: number, l0: number, l1: number, l2: number, l3: number])[] = [
  [20, 3.74, 3.97, -4.07, 1.47],
  [5, 3.05, 13.28, -45.98, 64.33],
  [-0.8, 2.88, 22.26, -207.64, 1034.3],
  [-5, 2.88, 21.81, -258.11, -858.36],
  [-12, 2.7, 12.17, -431.69, -1899.83],
  [-18, 13.84, 262.72, 1447.42, 2797.93],
];
const NIGHT = -18;

/**
 * Light on level ground under a clear sky, lux; the end of twilight's where the sun is lower (Urban & Seidelmann 2013,
 * after Janiczek & DeYoung 1987).
 * @param altitude of the sun, degrees
 */
export function daylightLux(altitude: number): number {
  const h = Math.max(NIGHT, altitude);
  const [, l0, l1, l2, l3] = ROWS.find(([above]) => h > above) ?? ROWS.at(-1)!;
  const x = h / 90;
  return 10 ** (l0 + x * (l1 + x * (l2 + x * l3)));
}
