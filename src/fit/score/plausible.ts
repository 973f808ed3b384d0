import type { Axes } from '../search/axes.js';
import type { Look } from '../search/look.js';

/**
 * What is likely of a camera before anything is known of it: assumptions, drawn wide, from what the dials of the cameras that ship
 * offer (src/camera/shipped). They decide where the fired times do not: a camera under which something never stops says little more than that
 * it fires, and there are many more ways to that at usual values than at odd ones.
 */
const USUAL = {
  level: { middle: 20, spread: 0.7 },
  /** Of the frame. */
  area: { middle: 0.0022, spread: 1.3 },
  /** Of an average. */
  seconds: { middle: 3, spread: 1 },
  /** Frames back. */
  lag: { middle: 2, spread: 1 },
};
/** Of those whose reference goes on, those whose reference stops, in either way. */
const STOPS = 0.4;
const SMOOTHS = [1, 1, 1, 0.4];

/** On a scale of ratios, 1 in the middle. */
function densityAt(x: number, { middle, spread }: { middle: number; spread: number }): number {
  return Math.exp(-0.5 * (Math.log(x / middle) / spread) ** 2);
}

/** How likely a description is beforehand, 1 for the usual. */
export function plausibility({ reference, whileBusy, smooth }: Look): number {
  const ofReference =
    reference.kind === 'average'
      ? densityAt(reference.seconds, USUAL.seconds)
      : densityAt(reference.lag, USUAL.lag);
  return ofReference * (whileBusy === 'continues' ? 1 : STOPS) * (SMOOTHS[smooth] ?? 0.2);
}

/** How many cameras stand at each level and area beforehand, beside each other: each counts for what lies nearest to it, on a scale of ratios. */
export function massesOf({ levels, areas }: Pick<Axes, 'levels' | 'areas'>, pixels: number) {
  const { level, area } = USUAL;
  return {
    levels: widthsOf(levels).map((width, i) => width * densityAt(levels[i]!, level)),
    areas: widthsOf(areas).map((width, i) => width * densityAt(areas[i]! / pixels, area)),
  };
}

function widthsOf(rising: readonly number[]): number[] {
  const halfUp = (i: number) => {
    const next = rising[i + 1];
    return next === undefined ? Math.log((rising[i]! + 0.5) / rising[i]!) : Math.log(next / rising[i]!) / 2;
  };
  return rising.map((x, i) => halfUp(i) + (i === 0 ? Math.log(x / (x - 0.5)) : halfUp(i - 1)));
}
