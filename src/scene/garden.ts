import { random, seedOf } from '../base/random.js';
import { lens as aim, type Lens } from './lens.js';
import { canvas } from './paint.js';
import { growCompostHeap } from './sites/compost-heap.js';
import { growLogPile } from './sites/log-pile.js';
import { type Plot, soften } from './sites/plot.js';
import type { Site } from './sites/site.js';
import { growWaterBowl } from './sites/water-bowl.js';
import type { SceneSpec } from './spec.js';
import type { Oscillator } from './wind.js';

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
