import type { Plant } from '../foliage.js';
import type { Water } from '../water.js';

/** Metres: to the right, above ground, away from the lens. */
export interface Spot {
  x: number;
  y: number;
  z: number;
}

/** Where animals can be. */
export interface Ways {
  /** Ground they move about on: half width as a share of the view's, and distances. */
  ground: { half: number; near: number; far: number };
  /** Raised places to perch on. */
  perches: Spot[];
  /** Out of sight, and the place beside it where an animal comes out. */
  hides: [Spot, Spot][];
}

/** What a site is made of before any weather. */
export interface Site {
  plants: Plant[];
  ways: Ways;
  water?: Water;
}
