import type { FittedLine } from './noise-line.js';

/** Of what is measured, what may be wrong with all points alike; set by hand, wider than drawn clips of each kind missed by. */
const COMPRESSED = 0.25;
const WEAK = 0.1;
const AT_BEST = 0.02;
/** Standard deviation in grey levels below which noise is weak: what rounding takes and adds is a good part of it. */
const WEAK_BELOW = 1;
/** Of how much more frames two apart differ than neighbours, the share that slow sway may have added to the noise. */
const BY_SWAY = 0.5;
/** Standard errors of a normal distribution on either side of 90 %. */
const NINETY = 1.645;

/** Where slope and floor lie, 90 %: by the scatter of the points, and beyond it by what may be wrong with all of them alike. */
export interface NoiseRange {
  slope: readonly [number, number];
  floor: readonly [number, number];
}

/** What a clip's noise had to come through. */
export interface Circumstances {
  compressed: boolean;
  /** Grey levels, without rounding. */
  deviation: number;
  /** Noise of frames two apart against that of frames one apart. */
  carried: number;
}

/** The share of what is measured that may be wrong with all points alike. */
export function systematic({ compressed, deviation, carried }: Circumstances): number {
  const kept = compressed ? COMPRESSED : deviation < WEAK_BELOW ? WEAK : AT_BEST;
  return kept + BY_SWAY * Math.max(0, carried - 1);
}

/**
 * @param share that may be wrong with all points alike
 * @param darkest linear light of the darkest point: a slope that is wrong moves the floor by so much of itself
 */
export function rangeOf(line: FittedLine, share: number, darkest: number): NoiseRange {
  const slope = line.slope * (NINETY * line.slopeError + share);
  const floor = NINETY * line.floorError + share * (line.floor + line.slope * darkest);
  return {
    slope: [Math.max(0, line.slope - slope), line.slope + slope],
    floor: [Math.max(0, line.floor - floor), line.floor + floor],
  };
}
