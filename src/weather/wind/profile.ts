/** Roughness length of low farmland with scattered bushes, metres; assumed for every site. */
const ROUGHNESS = 0.1;

/** Metres: below this the profile fails among stems, and the wind of this height is taken. */
const LOWEST = 1;

/** Mean wind at `height` over that at 10 m by the log profile, ln(h/z0) / ln(10/z0); metres. It fails inside vegetation. */
export function logProfile(height: number, roughness: number): number {
  return Math.log(height / roughness) / Math.log(10 / roughness);
}

/** Standard deviation of the wind over its mean, 1 / ln(h/z0) (form of EN 1991-1-4, from memory); metres. */
export function turbulenceIntensity(height: number, roughness: number): number {
  return 1 / Math.log(height / roughness);
}

/** The wind at a site. */
export interface SiteWind {
  /** Metres per second. */
  mean: number;
  /** Standard deviation over mean. */
  intensity: number;
  /** Metres above ground to which the two belong. */
  height: number;
}

/**
 * The wind at a camera `height` metres above ground when it blows at `open` m/s at 10 m.
 * @param shelter share of it that reaches the site
 */
export function siteWind(open: number, height: number, shelter: number): SiteWind {
  const h = Math.max(LOWEST, height);
  return {
    mean: open * logProfile(h, ROUGHNESS) * shelter,
    intensity: turbulenceIntensity(h, ROUGHNESS),
    height: h,
  };
}
