import { between, pick, type Random } from '../base/random.js';
import { blend, type Colour, scaled } from './colour.js';
import type { Bough, Leaf, Plant, Tuft } from './foliage.js';
import { type Lens, pictureX, pictureY } from './lens.js';
import type { Oscillator } from './wind.js';

type Point = readonly [number, number];

export interface BoughPlan {
  group: string;
  z: number;
  /** Anchor, bend and tip in fractions of the picture. */
  from: Point;
  bend: Point;
  to: Point;
  /** Metres: thickness at the anchor, length of a leaf, and how far leaves stand from the limb. */
  thick: number;
  leafLength: number;
  bushy: number;
  leaves: number;
  colours: readonly Colour[];
  bark: Colour;
  /** Share of its length that the tip goes in a wind of 6 m/s. */
  supple: number;
  /** Hertz. */
  frequency: number;
}

/** A limb with its twigs and leaves. */
export function growBough(plan: BoughPlan, width: number, height: number, lens: Lens, r: Random): Plant {
  const [ax, ay] = [plan.from[0] * width, plan.from[1] * height];
  const [tx, ty] = [plan.to[0] * width, plan.to[1] * height];
  const scale = lens.focal / plan.z;
  const length = Math.hypot(tx - ax, ty - ay);
  const twigs = 6;
  const leaves: Leaf[] = [];
  for (let i = 0; i < plan.leaves; i++) {
    const along = between(r, 0.06, 1);
    const angle = between(r, 0, 2 * Math.PI);
    const off = plan.bushy * scale * Math.sqrt(r()) * (0.5 + 0.5 * Math.sin(Math.PI * Math.min(1, along)));
    const a = 0.5 * plan.leafLength * scale * between(r, 0.6, 1.3);
    leaves.push({
      along,
      ox: Math.cos(angle) * off,
      oy: Math.sin(angle) * off * 0.8,
      angle: angle + between(r, -0.9, 0.9) + 0.5,
      a,
      b: a * between(r, 0.4, 0.65),
      colour: scaled(blend(pick(r, plan.colours), pick(r, plan.colours), r()), between(r, 0.65, 1.15)),
      twig: 1 + Math.min(twigs - 1, Math.floor(along * twigs)),
      sunlit: r() < 0.35 ? between(r, 1.2, 1.9) : between(r, 0.5, 0.95),
      phase: between(r, 0, 6.28),
      flutter: between(r, 1.7, 4.6),
      stiff: r(),
    });
  }
  const bough: Bough = {
    kind: 'bough',
    limb: {
      ax,
      ay,
      bx: plan.bend[0] * width,
      by: plan.bend[1] * height,
      tx,
      ty,
      wide: plan.thick * scale,
      colour: plan.bark,
    },
    reach: plan.supple * length,
    most: 0.55 * length,
    dip: between(r, -0.35, 0.35),
    leaves,
    twigReach: 0.18 * plan.supple * length,
  };
  const downwind = (ax / width) * 1.2 * plan.z;
  const oscillators: Oscillator[] = [{ frequency: plan.frequency, damping: 0.09, downwind }];
  for (let i = 0; i < twigs; i++) {
    oscillators.push({ frequency: between(r, 1.6, 2.6), damping: between(r, 0.08, 0.14), downwind });
  }
  return { ...bough, z: plan.z, group: plan.group, oscillators, column: 0 };
}

/** What the boughs of one plant have in common; each has a suppleness and a frequency of its own between two. */
export type BoughKind = Pick<BoughPlan, 'thick' | 'leafLength' | 'bushy' | 'colours' | 'bark'> & {
  supple: Point;
  frequency: Point;
};

/** @returns what grows one bough more of a kind */
export function boughsOf(kind: BoughKind, width: number, height: number, lens: Lens, r: Random) {
  return (group: string, z: number, from: Point, bend: Point, to: Point, leaves: number): Plant => {
    const [supple, frequency] = [between(r, ...kind.supple), between(r, ...kind.frequency)];
    return growBough(
      { ...kind, group, z, from, bend, to, leaves, supple, frequency },
      width,
      height,
      lens,
      r,
    );
  };
}

export interface TuftPlan {
  group: string;
  /** Metres: where it roots, how wide it stands, how tall it grows and how thick a blade is. */
  x: number;
  z: number;
  spread: number;
  tall: number;
  thick: number;
  blades: number;
  colours: readonly Colour[];
  /** Share of its height that the tip goes in a wind of 6 m/s. */
  supple: number;
  frequency: number;
}

/** Grass, each blade following one of four stems. */
export function growTuft(plan: TuftPlan, width: number, lens: Lens, r: Random): Plant {
  const scale = lens.focal / plan.z;
  const tuft: Tuft = { kind: 'tuft', blades: [] };
  for (let i = 0; i < plan.blades; i++) {
    const tall = plan.tall * scale * between(r, 0.35, 1.05);
    tuft.blades.push({
      x: pictureX(lens, plan.x + (r() + r() - 1) * plan.spread, plan.z),
      y: pictureY(lens, 0, plan.z * between(r, 0.97, 1.03)),
      tall,
      wide: Math.max(0.7, plan.thick * scale * between(r, 0.7, 1.4)),
      lean: tall * between(r, -0.38, 0.38),
      reach: tall * plan.supple * between(r, 0.6, 1.4),
      colour: scaled(blend(pick(r, plan.colours), pick(r, plan.colours), r()), between(r, 0.75, 1.15)),
      stem: Math.floor(r() * 4),
      sunlit: r() < 0.4 ? between(r, 1.05, 1.45) : between(r, 0.65, 1),
      phase: between(r, 0, 6.28),
      flutter: between(r, 1.4, 3.4),
      stiff: r(),
    });
  }
  const downwind = (pictureX(lens, plan.x, plan.z) / width) * 1.2 * plan.z;
  const oscillators = Array.from({ length: 4 }, () => ({
    frequency: plan.frequency * between(r, 0.8, 1.25),
    damping: between(r, 0.2, 0.35),
    downwind,
  }));
  return { ...tuft, z: plan.z, group: plan.group, oscillators, column: 0 };
}
