const RADIAN = Math.PI / 180;
/** 2000-01-01 12:00, in milliseconds and as a Julian day. */
const EPOCH = Date.UTC(2000, 0, 1, 12);

/** Days since the epoch J2000.0. Universal and dynamical time differ by about a minute, in which the sun goes 0.001 degrees. */
function daysOf(date: Date): number {
  return (date.getTime() - EPOCH) / 86_400_000;
}

/** Right ascension and declination in degrees, apparent, to 0.01 degrees (Meeus 1998, Astronomical Algorithms, chapter 25). */
function equatorial(days: number): { ascension: number; declination: number } {
  const t = days / 36_525;
  const mean = 280.46646 + t * (36_000.76983 + t * 0.0003032);
  const anomaly = (357.52911 + t * (35_999.05029 - t * 0.0001537)) * RADIAN;
  const centre =
    (1.914602 - t * (0.004817 + t * 0.000014)) * Math.sin(anomaly) +
    (0.019993 - t * 0.000101) * Math.sin(2 * anomaly) +
    0.000289 * Math.sin(3 * anomaly);
  const node = (125.04 - 1934.136 * t) * RADIAN;
  const longitude = (mean + centre - 0.00569 - 0.00478 * Math.sin(node)) * RADIAN;
  const obliquity = (23.4392911 - 0.0130042 * t + 0.00256 * Math.cos(node)) * RADIAN;
  return {
    ascension: Math.atan2(Math.cos(obliquity) * Math.sin(longitude), Math.cos(longitude)) / RADIAN,
    declination: Math.asin(Math.sin(obliquity) * Math.sin(longitude)) / RADIAN,
  };
}

/** How far north of the equator the sun stands overhead, degrees. */
export function sunDeclination(date: Date): number {
  return equatorial(daysOf(date)).declination;
}

/**
 * Height of the sun's middle above the horizon, without refraction, to 0.02 degrees between 1900 and 2100.
 * @param latitude degrees, north positive
 * @param longitude degrees, east positive
 */
export function sunAltitude(date: Date, latitude: number, longitude: number): number {
  const days = daysOf(date);
  const { ascension, declination } = equatorial(days);
  const sidereal = 280.46061837 + 360.98564736629 * days;
  const hour = (sidereal + longitude - ascension) * RADIAN;
  const north = latitude * RADIAN;
  const tilt = declination * RADIAN;
  const sine = Math.sin(north) * Math.sin(tilt) + Math.cos(north) * Math.cos(tilt) * Math.cos(hour);
  return Math.asin(Math.min(1, Math.max(-1, sine))) / RADIAN;
}
