import type { Colour } from '../colour.js';
import type { Canvas } from '../paint.js';

/** An ellipse of an animal, in units of its length: x towards the bill or snout, y up, from the ground below its middle. */
export interface Part {
  x: number;
  y: number;
  /** Half axes. */
  a: number;
  b: number;
  /** Radians from x towards y. */
  turn: number;
  colour: Colour;
  /** Strength of barring or streaks, and of spots. */
  barred?: number;
  spotted?: number;
}

/** A small picture of an animal with coverage, premultiplied RGBA, not cut at the edges of the frame. */
export interface Sprite {
  left: number;
  top: number;
  width: number;
  height: number;
  rgba: Float32Array;
}

/**
 * Draws an animal whose feet are at (x, y), `length` pixels long, facing right (1) or left (-1), smeared over (vx, vy)
 * pixels of movement during the exposure.
 */
export function drawSprite(
  parts: readonly Part[],
  x: number,
  y: number,
  length: number,
  facing: 1 | -1,
  vx = 0,
  vy = 0,
): Sprite {
  let x0 = Number.POSITIVE_INFINITY;
  let y0 = Number.POSITIVE_INFINITY;
  let x1 = Number.NEGATIVE_INFINITY;
  let y1 = Number.NEGATIVE_INFINITY;
  for (const p of parts) {
    const reach = Math.max(p.a, p.b) * length + 1.5;
    x0 = Math.min(x0, x + facing * p.x * length - reach - Math.abs(vx) / 2);
    x1 = Math.max(x1, x + facing * p.x * length + reach + Math.abs(vx) / 2);
    y0 = Math.min(y0, y - p.y * length - reach - Math.abs(vy) / 2);
    y1 = Math.max(y1, y - p.y * length + reach + Math.abs(vy) / 2);
  }
  const left = Math.floor(x0);
  const top = Math.floor(y0);
  const width = Math.ceil(x1) - left + 1;
  const height = Math.ceil(y1) - top + 1;
  const rgba = new Float32Array(width * height * 4);
  const times = Math.min(6, 1 + Math.floor(Math.hypot(vx, vy) / 2));
  const layer = times > 1 ? new Float32Array(rgba.length) : rgba;
  for (let n = 0; n < times; n++) {
    const along = times > 1 ? n / (times - 1) - 0.5 : 0;
    for (const p of parts) {
      cover(layer, width, height, p, x + vx * along - left, y + vy * along - top, length, facing);
    }
    if (times === 1) break;
    for (let i = 0; i < rgba.length; i++) rgba[i] = rgba[i]! + layer[i]! / times;
    layer.fill(0);
  }
  return { left, top, width, height, rgba };
}

function cover(
  rgba: Float32Array,
  width: number,
  height: number,
  p: Part,
  x: number,
  y: number,
  length: number,
  facing: 1 | -1,
): void {
  const cx = x + facing * p.x * length;
  const cy = y - p.y * length;
  const cos = facing * Math.cos(p.turn);
  const sin = -Math.sin(p.turn);
  const a = Math.max(0.35, p.a * length);
  const b = Math.max(0.35, p.b * length);
  const least = Math.min(a, b);
  const thin = Math.min(1, (p.a * length) / 0.35, (p.b * length) / 0.35);
  const reach = Math.max(a, b) + 1;
  for (let py = Math.max(0, Math.floor(cy - reach)); py <= Math.min(height - 1, cy + reach); py++) {
    for (let px = Math.max(0, Math.floor(cx - reach)); px <= Math.min(width - 1, cx + reach); px++) {
      const u = ((px - cx) * cos + (py - cy) * sin) / a;
      const v = (-(px - cx) * sin + (py - cy) * cos) / b;
      const far = Math.sqrt(u * u + v * v);
      const q = Math.min(1, (1 - far) * least + 0.5) * thin;
      if (q <= 0) continue;
      // Lit from above; animals are darker below.
      let lit = 1 - (0.32 * (py - cy)) / reach;
      if (p.barred) lit *= 1 + p.barred * Math.sin(u * 11 + v * 4);
      if (p.spotted) lit *= 1 + p.spotted * Math.max(0, Math.sin(u * 13) * Math.sin(v * 9 + u * 5));
      const i = (py * width + px) * 4;
      rgba[i] = rgba[i]! * (1 - q) + p.colour[0] * lit * q;
      rgba[i + 1] = rgba[i + 1]! * (1 - q) + p.colour[1] * lit * q;
      rgba[i + 2] = rgba[i + 2]! * (1 - q) + p.colour[2] * lit * q;
      rgba[i + 3] = rgba[i + 3]! * (1 - q) + q;
    }
  }
}

/** Lays a sprite z metres away into the picture, behind what stands nearer; in flat white where `flat`. */
export function stamp(
  c: Canvas,
  s: Sprite,
  depth: Float32Array,
  z: number,
  light: number,
  flat = false,
): void {
  const d = c.rgb;
  for (let y = Math.max(0, s.top); y < Math.min(c.height, s.top + s.height); y++) {
    for (let x = Math.max(0, s.left); x < Math.min(c.width, s.left + s.width); x++) {
      const j = ((y - s.top) * s.width + x - s.left) * 4;
      const q = s.rgba[j + 3]!;
      if (q <= 0 || depth[y * c.width + x]! < z) continue;
      const i = (y * c.width + x) * 3;
      d[i] = d[i]! * (1 - q) + (flat ? q : s.rgba[j]! * light);
      d[i + 1] = d[i + 1]! * (1 - q) + (flat ? q : s.rgba[j + 1]! * light);
      d[i + 2] = d[i + 2]! * (1 - q) + (flat ? q : s.rgba[j + 2]! * light);
    }
  }
}

/** Pixels covered by a sprite, in and out of the frame. */
export function area(s: Sprite): number {
  let sum = 0;
  for (let i = 3; i < s.rgba.length; i += 4) sum += s.rgba[i]!;
  return sum;
}
