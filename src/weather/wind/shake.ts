import type { Swing } from './oscillator.js';
import type { Net } from './warp.js';

/** Degrees by which a camera in a tree turns under a steady wind of `STEADY` m/s; assumed. */
const SHAKE = 0.5;
export const STEADY = 6;

/** The stem it hangs on: slow and lightly damped, as trees are (Moore & Maguire 2004, Trees 18:195-203); figures assumed. */
export const STEM: Swing = { frequency: 0.6, damping: 0.06 };

/**
 * Moves the whole picture of a net.
 *
 * @param deflection of the stem from its mean lean, 1 = that at rest under a wind of `STEADY`
 * @param focal pixels for each metre at one metre
 */
export function addShake(net: Net, deflection: number, focal: number): void {
  const moved = focal * Math.tan((SHAKE * Math.PI) / 180) * deflection;
  for (let i = 0; i < net.dx.length; i++) {
    net.dx[i]! += moved;
    net.dy[i]! += 0.3 * moved;
  }
}
