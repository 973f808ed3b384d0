import type { Random } from '../base/random.js';
import { screen } from './colour.js';
import { type Canvas, canvas, stroke } from './paint.js';

/** Someone at the camera, seconds: at the start setting it up, or at the end taking it down. */
export interface Person {
  start: number;
  end: number;
  arrives: boolean;
  /** -1 left, 1 right: the side they come from and go to. */
  side: -1 | 1;
  phase: number;
}

const jacket = screen(0x3a4650);
const trousers = screen(0x4d4538);
const skin = screen(0x8d7565);

export function people(
  spec: { start: number; end: number } | undefined,
  seconds: number,
  r: Random,
): Person[] {
  const out: Person[] = [];
  const one = (start: number, end: number, arrives: boolean): Person => ({
    start,
    end,
    arrives,
    side: r() < 0.5 ? -1 : 1,
    phase: r() * 6.28,
  });
  if (spec && spec.start > 0) out.push(one(0, spec.start, false));
  if (spec && spec.end > 0) out.push(one(seconds - spec.end, seconds, true));
  return out;
}

/** A person too close to be sharp, as a dark shape: at the lens most of the time, then walking off (or up to it). */
export function drawPerson(c: Canvas, p: Person, t: number, light: number): void {
  if (t < p.start || t > p.end) return;
  const run = p.end - p.start;
  const away = Math.min(6, run * 0.4);
  // 0 at the lens .. 1 gone.
  const gone = p.arrives ? 1 - (t - p.start) / away : 1 - (p.end - t) / away;
  const walk = Math.max(0, gone);
  const z = 0.75 + 1.3 * walk;
  const w = c.width;
  const swing = Math.sin(t * 1.1 + p.phase) + 0.6 * Math.sin(t * 2.3 + 2 * p.phase);
  const x = w * (0.5 + p.side * (0.2 + 1.05 * walk ** 1.2) + 0.07 * swing * (1 - walk));
  const unit = (0.83 * w) / z;
  const foot = c.height * (0.66 + 0.42 / z);
  const soft = (3 + 5 * (1 - walk)) * (w / 320);
  const limb = (x0: number, y0: number, x1: number, y1: number, wide: number, colour: readonly number[]) =>
    stroke(
      c,
      x0,
      y0,
      x1,
      y1,
      wide * unit,
      colour[0]! * light,
      colour[1]! * light,
      colour[2]! * light,
      1,
      soft,
    );
  const stride = 0.16 * unit * Math.sin(t * 5.5) * Math.min(1, walk * 5);
  const hip = foot - 0.86 * unit;
  limb(x - 0.09 * unit, hip, x - 0.12 * unit - stride, foot, 0.15, trousers);
  limb(x + 0.09 * unit, hip, x + 0.12 * unit + stride, foot, 0.15, trousers);
  for (const side of [-0.1, 0, 0.1]) {
    limb(x + side * unit, hip - 0.02 * unit, x + (side + 0.02 * swing) * unit, hip - 0.5 * unit, 0.2, jacket);
  }
  limb(x, hip - 0.72 * unit, x, hip - 0.76 * unit, 0.2, skin);
  // An arm that reaches for the camera, on and off, while they are near it.
  const reach = walk > 0 ? 0 : Math.max(0, Math.sin(t * 0.9 + p.phase));
  if (reach > 0.2) {
    const hx = w * (0.5 + 0.12 * swing);
    const hy = c.height * (1.05 - 0.35 * reach);
    limb(x - p.side * 0.15 * unit, hip - 0.4 * unit, hx, hy, 0.15, jacket);
    limb(hx, hy, hx + 0.02 * unit, hy + 0.05 * unit, 0.14, skin);
  } else {
    limb(x + p.side * 0.2 * unit, hip - 0.48 * unit, x + p.side * 0.24 * unit + stride, hip, 0.12, jacket);
  }
}

/** The frames, first and last, in which a person covers at least a two-hundredth of the picture. */
export function inView(
  p: Person,
  rate: number,
  frames: number,
  width: number,
  height: number,
): [number, number] | undefined {
  const c = canvas(Math.round(width / 4), Math.round(height / 4));
  let first = -1;
  let last = -1;
  for (let k = Math.ceil(p.start * rate); k <= Math.min(frames - 1, p.end * rate); k++) {
    c.rgb.fill(1);
    drawPerson(c, p, k / rate, 0);
    let covered = 0;
    for (let i = 0; i < c.rgb.length; i += 3) covered += 1 - c.rgb[i]!;
    if (covered < c.width * c.height * 0.005) continue;
    if (first < 0) first = k;
    last = k;
  }
  return first < 0 ? undefined : [first, last];
}
