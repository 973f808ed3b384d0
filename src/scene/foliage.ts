import { chance } from '../base/random.js';
import type { Colour } from './colour.js';
import { blade, type Canvas, leaf, stroke } from './paint.js';
import type { Oscillator } from './wind.js';

/** What moves the plants in one frame. */
export interface Moment {
  frame: number;
  /** Seconds. */
  time: number;
  /** Deflections of this frame's oscillators: sway[row + column]. */
  sway: Float32Array;
  row: number;
  /** Metres per second at the plants. */
  wind: number;
  /** Share of the light that comes straight from the sun, 0..1. */
  sun: number;
  /** Chance of a drop or drip striking a given leaf in this frame. */
  struck: number;
  /** Pixels for each metre at one metre. */
  focal: number;
}

/** Twigs and leaves on one limb; pixels. */
export interface Bough {
  kind: 'bough';
  /** Anchor, bend and tip of the limb at rest, and its width at the anchor. */
  limb: {
    ax: number;
    ay: number;
    bx: number;
    by: number;
    tx: number;
    ty: number;
    wide: number;
    colour: Colour;
  };
  /** Pixels that the tip goes in a wind of 6 m/s, and at most; share of it that goes downwards. */
  reach: number;
  most: number;
  dip: number;
  leaves: Leaf[];
  /** Pixels that a twig adds to its leaves in a wind of 6 m/s. */
  twigReach: number;
}

export interface Leaf {
  /** Place along the limb, 0..1, and from there, pixels. */
  along: number;
  ox: number;
  oy: number;
  angle: number;
  a: number;
  b: number;
  colour: Colour;
  /** Which oscillator of the plant: 0 is the limb. */
  twig: number;
  sunlit: number;
  phase: number;
  /** Hertz. */
  flutter: number;
  /** 0 flutters in any air .. 1 only in a breeze. */
  stiff: number;
}

/** Blades of grass from one root. */
export interface Tuft {
  kind: 'tuft';
  blades: Blade[];
}

export interface Blade {
  x: number;
  y: number;
  tall: number;
  wide: number;
  lean: number;
  reach: number;
  colour: Colour;
  /** Which oscillator of the plant. */
  stem: number;
  sunlit: number;
  phase: number;
  flutter: number;
  stiff: number;
}

export type Plant = (Bough | Tuft) & {
  /** Metres from the lens. */
  z: number;
  /** Plants of one group share a foliage outline in the labels. */
  group: string;
  oscillators: Oscillator[];
  /** Column of the plant's first oscillator. */
  column: number;
};

/** A deflection that grows in proportion at first and never passes `most`. */
function bounded(x: number, most: number): number {
  return x / (1 + Math.abs(x) / most);
}

/** Leaves flutter before branches move (Tadrist et al. 2018), the slackest first: radians at `wind` m/s. */
function flutterAngle(wind: number, stiff: number): number {
  return 0.32 * Math.min(1, Math.max(0, wind / 3 - 0.9 * stiff));
}

/** `light` 0 paints the plant black, to find what it hides. */
export function drawPlant(c: Canvas, p: Plant, m: Moment, light = 1): void {
  if (p.kind === 'bough') drawBough(c, p, p.column, m, light);
  else drawTuft(c, p, p.column, m, light);
}

function drawBough(c: Canvas, p: Bough, column: number, m: Moment, light: number): void {
  const { ax, ay, bx, by, tx, ty, wide, colour } = p.limb;
  const tip = bounded(m.sway[m.row + column]! * p.reach, p.most);
  const drop = Math.abs(tip) * p.dip;
  const limbX = (s: number) => (1 - s) ** 2 * ax + 2 * s * (1 - s) * bx + s * s * tx + tip * s ** 1.6;
  const limbY = (s: number) => (1 - s) ** 2 * ay + 2 * s * (1 - s) * by + s * s * ty + drop * s ** 1.6;
  const shade = light * (1 - 0.4 * m.sun);
  for (let i = 0; i < 8; i++) {
    const s = i / 8;
    const e = (i + 1) / 8;
    stroke(
      c,
      limbX(s),
      limbY(s),
      limbX(e),
      limbY(e),
      wide * (1 - 0.7 * s),
      colour[0] * shade,
      colour[1] * shade,
      colour[2] * shade,
    );
  }
  for (let n = 0; n < p.leaves.length; n++) {
    const l = p.leaves[n]!;
    const twig = bounded(m.sway[m.row + column + l.twig]! * p.twigReach, p.most * 0.5);
    const flap = flutterAngle(m.wind, l.stiff);
    const wave = flap === 0 ? 0 : Math.sin(l.flutter * 6.2832 * m.time + l.phase + twig);
    const angle = l.angle + flap * wave + knock(m, column * 1009 + n) + twig * 0.012;
    const x = limbX(l.along) + l.ox + twig + Math.cos(angle) * l.a;
    const y = limbY(l.along) + l.oy + twig * p.dip + Math.sin(angle) * l.a;
    const lit = light * (1 - m.sun + m.sun * l.sunlit * (1 + 0.3 * flap * wave));
    leaf(c, x, y, angle, l.a, l.b, l.colour[0] * lit, l.colour[1] * lit, l.colour[2] * lit);
  }
}

function drawTuft(c: Canvas, p: Tuft, column: number, m: Moment, light: number): void {
  for (let n = 0; n < p.blades.length; n++) {
    const b = p.blades[n]!;
    const flap = flutterAngle(m.wind, b.stiff);
    const wave = flap === 0 ? 0 : Math.sin(b.flutter * 6.2832 * m.time + b.phase);
    const bend =
      bounded(m.sway[m.row + column + b.stem]! * b.reach, b.tall * 0.85) +
      (0.07 * flap * wave + 0.12 * knock(m, column * 1009 + n)) * b.tall;
    const fall = bend / b.tall;
    const lit = light * (1 - m.sun + m.sun * b.sunlit);
    const tall = b.tall * (1 - 0.4 * fall * fall);
    blade(c, b.x, b.y, tall, b.wide, b.lean, bend, b.colour[0] * lit, b.colour[1] * lit, b.colour[2] * lit);
  }
}

/** The turn that drops of the last frames have left in a leaf, radians. */
function knock(m: Moment, id: number): number {
  if (m.struck === 0) return 0;
  let turn = 0;
  for (let ago = 0; ago < 3; ago++) {
    const c = chance(id, m.frame - ago, 77);
    if (c < m.struck) turn += (c < m.struck / 2 ? -0.9 : 0.9) * 0.35 ** ago;
  }
  return turn;
}

/** The outline of everything a plant is made of at rest, pixels: x, y pairs. */
export function extent(p: Plant): [number, number][] {
  const points: [number, number][] = [];
  if (p.kind === 'tuft') {
    for (const b of p.blades)
      points.push([b.x - b.wide, b.y], [b.x + b.wide, b.y], [b.x + b.lean, b.y - b.tall]);
    return points;
  }
  const { ax, ay, bx, by, tx, ty } = p.limb;
  points.push([ax, ay], [tx, ty]);
  for (const l of p.leaves) {
    const s = l.along;
    const x = (1 - s) ** 2 * ax + 2 * s * (1 - s) * bx + s * s * tx + l.ox + Math.cos(l.angle) * l.a;
    const y = (1 - s) ** 2 * ay + 2 * s * (1 - s) * by + s * s * ty + l.oy + Math.sin(l.angle) * l.a;
    points.push([x - l.a, y], [x + l.a, y], [x, y - l.a], [x, y + l.a]);
  }
  return points;
}
