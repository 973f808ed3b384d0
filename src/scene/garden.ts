import { random, seedOf } from '../base/random.js';
import type { Plant } from './foliage.js';
import { lens as aim, type Lens } from './lens.js';
import { canvas } from './paint.js';
import { growCompostHeap } from './sites/compost-heap.js';
import { growLogPile } from './sites/log-pile.js';
import { type Plot, soften } from './sites/plot.js';
import { growWaterBowl } from './sites/water-bowl.js';
import type { SceneSpec } from './spec.js';
import type { Water } from './water.js';
import type { Oscillator } from './wind.js';

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

export interface Garden extends Site {
  lens: Lens;
  width: number;
  height: number;
  /** Reflectance seen at each pixel of the still picture, interleaved RGB. */
  still: Float32Array;
  depth: Float32Array;
  /** Every plant's, in columns. */
  oscillators: Oscillator[];
}

/** The site of a scene, the same for every weather: it follows from the place's seed alone. */
export function growGarden(spec: SceneSpec): Garden {
  const seed = spec.seeds?.place ?? spec.seed;
  const { width, height } = spec;
  const lens = aim(width, height, spec.scene.height, spec.scene.subject);
  const plot: Plot = {
    canvas: canvas(width, height),
    lens,
    depth: new Float32Array(width * height).fill(Number.POSITIVE_INFINITY),
    r: random(seed, 'place'),
    seed: seedOf(seed, 'texture'),
    scale: width / 320,
  };
  const grow = { 'log pile': growLogPile, 'water bowl': growWaterBowl, 'compost heap': growCompostHeap };
  const site = grow[spec.site](plot, spec);
  soften(plot);
  // Painted from far to near, so that what is near hides what is far.
  const plants = site.plants.sort((a, b) => b.z - a.z);
  const oscillators: Oscillator[] = [];
  for (const plant of plants) {
    plant.column = oscillators.length;
    oscillators.push(...plant.oscillators);
  }
  return { ...site, plants, lens, width, height, still: plot.canvas.rgb, depth: plot.depth, oscillators };
}
