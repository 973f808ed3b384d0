import type { Look } from '../look.js';
import { type Direction, direction } from './direction.js';
import { type Displacement, displacement } from './displacement.js';
import { type Extent, extent } from './extent.js';
import { type Novelty, novelty } from './novelty.js';
import { type Place, place } from './place.js';
import { type Streaks, streaksOf } from './streaks.js';
import { type Surroundings, surroundings } from './surroundings.js';
import { type Texture, texture } from './texture.js';
import { type WholeShift, wholeShiftOf } from './whole-shift.js';

/** All that is measured around one trigger. */
export interface Measures {
  extent: Extent;
  direction: Direction;
  texture: Texture;
  displacement: Displacement;
  place: Place;
  novelty: Novelty;
  surroundings: Surroundings;
  streaks: Streaks;
  wholeShift: WholeShift;
}

export function measure(look: Look): Measures {
  return {
    extent: extent(look),
    direction: direction(look),
    texture: texture(look),
    displacement: displacement(look),
    place: place(look),
    novelty: novelty(look),
    surroundings: surroundings(look),
    streaks: streaksOf(look),
    wholeShift: wholeShiftOf(look),
  };
}

/**
 * What the cause model sees: one number for each entry, shares as they are, sizes and times as logarithms, all bounded
 * so that nothing unheard of carries it far from what it was trained on. Nothing that only says how a scene is laid out
 * (where, how bright, how much of it grows): what was learnt of that on drawn gardens is wrong elsewhere.
 */
const entries: Record<string, (m: Measures) => number> = {
  region: ({ extent }) => Math.log10(extent.region + 1e-5),
  changed: ({ extent }) => Math.log10(extent.changed + 1e-5),
  regionOfChanged: ({ extent }) => extent.region / Math.max(extent.changed, 1e-9),
  fill: ({ extent }) => extent.fill,
  roundness: ({ extent }) => extent.roundness,
  pieces: ({ extent }) => Math.log10(1 + extent.pieces),
  way: ({ direction }) => direction.region,
  oneWay: ({ direction }) => Math.abs(direction.region),
  oneWayAll: ({ direction }) => direction.changed,
  whole: ({ direction }) => Math.min(3, direction.whole),
  together: ({ direction }) => direction.together,
  strength: ({ direction }) => Math.log2(direction.strength + 0.1),
  noise: ({ direction }) => Math.min(2, direction.noise),
  kept: ({ texture }) => texture.kept,
  contrast: ({ texture }) => bounded(texture.contrast, 3),
  ratio: ({ texture }) => bounded(texture.ratio, 2),
  smoothness: ({ texture }) => texture.smoothness,
  shifted: ({ displacement }) => displacement.shifted,
  elsewhere: ({ displacement }) => displacement.elsewhere,
  again: ({ displacement }) => displacement.again,
  rigid: ({ displacement }) => displacement.rigid,
  far: ({ displacement }) => Math.min(3, displacement.far),
  active: ({ place }) => place.active,
  bouts: ({ place }) => Math.log2(1 + (10 * place.times) / Math.max(1, place.seconds)),
  remains: ({ place }) => Math.min(2, place.remains),
  lasted: ({ place }) => Math.log2(place.lasted + 0.1),
  rhythm: ({ place }) => place.rhythm?.share ?? 0,
  novel: ({ novelty }) => novelty.here,
  before: ({ novelty }) => novelty.before,
  after: ({ novelty }) => novelty.after,
  earlier: ({ novelty }) => novelty.earlier,
  later: ({ novelty }) => novelty.later,
  ordinary: ({ novelty }) => novelty.ordinary,
  busy: ({ surroundings }) => Math.log10(surroundings.busy + 1e-4),
  flashes: ({ surroundings }) => surroundings.flashes,
  streaks: ({ streaks }) => streaks.oneWay,
  uprightStreaks: ({ streaks }) => streaks.upright,
  sharp: ({ streaks }) => Math.min(1, streaks.sharp),
  shaken: ({ wholeShift }) => wholeShift.explains,
  shakenBy: ({ wholeShift }) => Math.log2(1 + Math.hypot(wholeShift.x, wholeShift.y)),
};

/** Names of the entries, in the order of `vectorOf`. */
export const entryNames = Object.keys(entries);

export function vectorOf(measures: Measures): number[] {
  return Object.values(entries).map((entry) => {
    const value = entry(measures);
    return Number.isFinite(value) ? value : 0;
  });
}

function bounded(x: number, most: number): number {
  return Math.min(most, Math.max(-most, x));
}
