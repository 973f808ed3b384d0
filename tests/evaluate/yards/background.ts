import { Canvas } from './canvas.js';
import type { Dice } from './dice.js';
import { groundRow, type View } from './view.js';

const grounds = ['lawn', 'soil', 'asphalt', 'slabs', 'gravel'] as const;
const backs = ['bricks', 'boards', 'render', 'far bushes'] as const;

/** What never moves: the ground, what stands at its end, and paint, posts and stones on it. */
export interface Background {
  canvas: Canvas;
  ground: (typeof grounds)[number];
  /** Row at which the ground ends. */
  edge: number;
  /** Whether a drop that strikes the ground is seen to splash. */
  hard: boolean;
}

/** @param bare without anything that grows: walls and paving only */
export function backgroundOf(view: View, dice: Dice, bare: boolean): Background {
  const { width, height } = view;
  const canvas = new Canvas(width, height);
  const ground = bare ? dice.one(['asphalt', 'slabs'] as const) : dice.one(grounds);
  const back = bare ? dice.one(['bricks', 'boards', 'render'] as const) : dice.one(backs);
  const away = dice.within(3.5, 7);
  const edge = Math.round(groundRow(view, away));
  layBack(canvas, view, back, edge, away, dice.of('back'));
  layGround(canvas, view, ground, edge, dice.of('ground'));
  if (ground === 'asphalt' || ground === 'slabs') paint(canvas, view, edge, away, dice.of('paint'));
  things(canvas, view, away, dice.of('things'));
  return { canvas, ground, edge, hard: ground === 'asphalt' || ground === 'slabs' };
}

function layGround(canvas: Canvas, view: View, ground: Background['ground'], edge: number, dice: Dice): void {
  const { width, height, focal, tall, horizon } = view;
  const base =
    { lawn: 0.13, soil: 0.09, asphalt: 0.12, slabs: 0.3, gravel: 0.25 }[ground] * dice.ratio(0.75, 1.35);
  const rough =
    { lawn: 0.5, soil: 0.45, asphalt: 0.12, slabs: 0.08, gravel: 0.45 }[ground] * dice.within(0.6, 1.3);
  const grain = { lawn: 0.02, soil: 0.04, asphalt: 0.015, slabs: 0.03, gravel: 0.025 }[ground];
  const noise = lattice(dice);
  const slab = dice.within(0.3, 0.6);
  for (let y = edge; y < height; y++) {
    const z = (focal * tall) / Math.max(1, y - horizon);
    for (let x = 0; x < width; x++) {
      const across = ((x - width / 2) * z) / focal;
      // Finer than a pixel it evens out.
      const fine = Math.min(1, (grain * focal) / z);
      const finer = Math.min(1, (grain * focal) / z / 3);
      const spots =
        fine * noise(across / grain, z / grain / 2) +
        finer * noise((3.1 * across) / grain, (1.6 * z) / grain) +
        0.6 * noise(across / 0.4, z / 0.4);
      let light = base * Math.exp(rough * spots);
      if (ground === 'slabs') {
        const [i, j] = [Math.abs(((across / slab) % 1) + 1) % 1, (z / slab) % 1];
        const joint = (0.012 / slab) * Math.max(1, (1.5 * z) / focal / 0.012);
        if (i < joint || j < joint) light *= 0.45;
      }
      canvas.light[y * width + x] = light;
    }
  }
}

function layBack(
  canvas: Canvas,
  view: View,
  back: (typeof backs)[number],
  edge: number,
  away: number,
  dice: Dice,
): void {
  const { width, focal } = view;
  const scale = focal / away;
  const noise = lattice(dice);
  const base =
    { bricks: 0.17, boards: 0.14, render: 0.45, 'far bushes': 0.08 }[back] * dice.ratio(0.75, 1.35);
  const top = edge - dice.within(1.2, 3) * scale;
  const sky = dice.within(0.75, 1.05);
  for (let y = 0; y < edge; y++) {
    for (let x = 0; x < width; x++) {
      const [u, v] = [x / scale, (edge - y) / scale];
      let light = base * Math.exp(0.18 * noise(u / 0.05, v / 0.05) + 0.1 * noise(u / 0.6, v / 0.6));
      if (back === 'bricks') {
        const row = Math.floor(v / 0.075);
        const inRow = v / 0.075 - row;
        const along = u / 0.22 + (row % 2) / 2;
        const brick = along - Math.floor(along);
        // No joint is thinner than a pixel, and what would be is fainter.
        const flat = Math.max(0.13, 1 / (0.075 * scale));
        const upright = Math.max(0.045, 1 / (0.22 * scale));
        const mortar = 1 + 0.6 * Math.min(1, 0.13 / flat);
        light *=
          inRow < flat || brick < upright ? mortar : 1 + 0.3 * noise(Math.floor(along) * 3.7, row * 5.3);
      } else if (back === 'boards') {
        const along = u / 0.12;
        const inBoard = along - Math.floor(along);
        light *=
          inBoard < 0.07
            ? 0.3
            : 1 + 0.25 * noise(Math.floor(along) * 7.1, 0.3) + 0.12 * noise(u / 0.008, v / 0.5);
      } else if (back === 'far bushes') {
        light *= Math.exp(0.7 * noise(u / 0.12, v / 0.1));
      }
      canvas.light[y * width + x] =
        y < top + (back === 'far bushes' ? 6 * noise(u / 0.3, 0) : 0) ? sky : light;
    }
  }
}

/** Lines as on a car park or a court: straight, bright and sharp. */
function paint(canvas: Canvas, view: View, edge: number, away: number, dice: Dice): void {
  const on = (across: number, z: number): [number, number] => [
    view.width / 2 + (view.focal * across) / z,
    groundRow(view, z),
  ];
  const light = dice.within(0.55, 0.85);
  const wide = dice.within(0.06, 0.12);
  const nearest = (view.focal * view.tall) / (view.height - 1 - view.horizon);
  const slant = dice.within(-0.4, 0.4);
  for (let i = dice.whole(2, 4), at = dice.within(-2, -1); i > 0; i--, at += dice.within(0.7, 1.2)) {
    const far = slant * (away - nearest);
    canvas.fill(
      [on(at, nearest), on(at + wide, nearest), on(at + wide + far, away), on(at + far, away)],
      light,
      0.9,
    );
  }
  const z = dice.within(nearest * 1.3, away * 0.9);
  if (groundRow(view, z) > edge) {
    canvas.fill([on(-9, z), on(9, z), on(9, z + wide * 1.5), on(-9, z + wide * 1.5)], light, 0.85);
  }
}

/** Posts, a box, a pot, stones: hard edges near the camera. */
function things(canvas: Canvas, view: View, farthest: number, dice: Dice): void {
  for (let i = dice.whole(1, 4); i > 0; i--) {
    const z = dice.within(1.6, farthest);
    const scale = view.focal / z;
    const x = dice.within(0, view.width);
    const foot = groundRow(view, z);
    const light = dice.ratio(0.05, 0.5);
    const [wide, tall] = dice.one([
      [0.08, 1.1],
      [0.35, 0.3],
      [0.22, 0.25],
      [0.5, 0.12],
    ] as const);
    const [l, r, t] = [x - (wide * scale) / 2, x + (wide * scale) / 2, foot - tall * scale];
    canvas.fill(
      [
        [l, t],
        [r, t],
        [r, foot],
        [l, foot],
      ],
      light,
    );
    canvas.fill(
      [
        [r - 0.3 * (r - l), t],
        [r, t],
        [r, foot],
        [r - 0.3 * (r - l), foot],
      ],
      light * 0.6,
    );
    canvas.stroke(l, foot, r, foot, 2, 2, 0.03);
  }
}

/** Value noise about 0, mostly within -1..1: random figures at whole places, smoothly joined. */
function lattice(dice: Dice): (x: number, y: number) => number {
  const side = 64;
  const values = Float32Array.from({ length: side * side }, () => dice.within(-1, 1));
  const ease = (t: number) => t * t * (3 - 2 * t);
  return (x, y) => {
    const [i, j] = [Math.floor(x), Math.floor(y)];
    const [s, t] = [ease(x - i), ease(y - j)];
    const at = (p: number, q: number) => values[(q & (side - 1)) * side + (p & (side - 1))]!;
    const [a, b, c, d] = [at(i, j), at(i + 1, j), at(i, j + 1), at(i + 1, j + 1)];
    return a + s * (b - a) + t * (c - a + s * (a - b - c + d));
  };
}
