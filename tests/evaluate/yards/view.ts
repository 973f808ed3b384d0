import type { Dice } from './dice.js';

/** How the camera stands: pixels unless said otherwise. */
export interface View {
  width: number;
  height: number;
  /** Horizontal field of view, degrees. */
  hfov: number;
  /** Pixels for each metre at one metre. */
  focal: number;
  /** Metres above ground. */
  tall: number;
  /** The row where a level plain would end. */
  horizon: number;
  /** Metres to where animals come, and to the nearest foliage. */
  subject: number;
  foliage: number;
}

export function viewOf(dice: Dice, width: number, height: number): View {
  const hfov = dice.within(48, 76);
  return {
    width,
    height,
    hfov,
    focal: width / 2 / Math.tan((hfov * Math.PI) / 360),
    tall: dice.within(0.35, 1.4),
    horizon: height * dice.within(0.02, 0.3),
    subject: dice.within(1.2, 2.8),
    foliage: dice.within(1.3, 3.6),
  };
}

/** Row of the ground `away` metres from the camera. */
export function groundRow({ horizon, focal, tall }: View, away: number): number {
  return horizon + (focal * tall) / away;
}
