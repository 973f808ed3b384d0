import { between, pick } from '../../base/random.js';
import { blend, type Colour, dull, scaled } from '../colour.js';
import { pictureX, pictureY } from '../lens.js';
import { leaf } from '../paint.js';
import { roughNoise, smoothNoise } from '../texture.js';
import { type Plot, paintContact, stand } from './plot.js';

/** The sawn end of a log: rings, cracks and bark. Metres; (x, y) is its middle. */
export function paintLogEnd(p: Plot, x: number, y: number, radius: number, z: number): void {
  const cx = pictureX(p.lens, x, z);
  const cy = pictureY(p.lens, y, z);
  const r = (radius * p.lens.focal) / z;
  const wood = blend(dull(0xa58660), dull(0x7b6a55), p.r());
  const bark = blend(dull(0x4a3c30), dull(0x5d5348), p.r());
  const id = Math.floor(p.r() * 1e6);
  const heartX = between(p.r, -0.2, 0.2) * r;
  const heartY = between(p.r, -0.2, 0.2) * r;
  const crack = between(p.r, 0, 6.28);
  const green = p.r() < 0.4 ? 0.5 : 0.1;
  paintContact(p, cx, cy + r * 0.25, r * 1.35, r * 1.3, 0.75);
  for (let py = Math.max(0, Math.floor(cy - r - 2)); py <= Math.min(p.canvas.height - 1, cy + r + 2); py++) {
    for (let px = Math.max(0, Math.floor(cx - r - 2)); px <= Math.min(p.canvas.width - 1, cx + r + 2); px++) {
      const dx = px - cx;
      const dy = py - cy;
      const turn = Math.atan2(dy, dx);
      const rough = r * (1 + 0.08 * (smoothNoise(turn * 2.5 + 9, 0, id) - 0.5) * 2);
      const dist = Math.hypot(dx, dy);
      const q = Math.min(1, rough - dist + 0.5);
      if (q <= 0) continue;
      const inner = Math.hypot(dx - heartX, dy - heartY) / r;
      const ring = 0.5 + 0.5 * Math.sin(inner * 26 + 2 * smoothNoise(dx / 4, dy / 4, id));
      const split = Math.abs(Math.sin((turn - crack) / 2)) * dist < 0.5 && dist > 0.15 * r ? 0.4 : 1;
      const grime = 0.55 + 0.6 * roughNoise(dx / 9, dy / 9, id + 3, 3);
      const rim = dist > rough * 0.86;
      const lit = 0.92 - (0.3 * dy) / r;
      const face = blend(
        scaled(wood, 0.72 + 0.28 * ring),
        dull(0x5b6b3a),
        green * Math.max(0, grime - 0.75) * 2,
      );
      stand(p, px, py, rim ? bark : face, (rim ? 0.7 + 0.4 * grime : split * grime) * lit, q, z);
    }
  }
}

/** A log lying across the view, from xa to xb metres, its middle y metres up. */
export function paintLog(p: Plot, xa: number, xb: number, y: number, radius: number, z: number): void {
  const left = Math.max(0, Math.round(pictureX(p.lens, xa, z)));
  const right = Math.min(p.canvas.width - 1, Math.round(pictureX(p.lens, xb, z)));
  const cy = pictureY(p.lens, y, z);
  const r = (radius * p.lens.focal) / z;
  const id = Math.floor(p.r() * 1e6);
  paintContact(p, (left + right) / 2, cy + r, (right - left) / 1.8, r * 0.9, 0.7);
  for (let px = left; px <= right; px++) {
    const rr = r * (0.93 + 0.16 * smoothNoise(px / 14, 0, id));
    for (
      let py = Math.max(0, Math.floor(cy - rr - 1));
      py <= Math.min(p.canvas.height - 1, cy + rr + 1);
      py++
    ) {
      const v = (py - cy) / rr;
      const end = Math.min(px - left, right - px) / (r * 0.35);
      const q = Math.min(1, (1 - Math.abs(v)) * rr + 0.5, (end - Math.abs(v) ** 2) * 3 + 0.5);
      if (q <= 0) continue;
      const bark = roughNoise(px / 11, py / 2.6, id, 4);
      const moss = v < -0.1 ? Math.max(0, roughNoise(px / 13, py / 7, id + 7, 3) - 0.5) * 3 : 0;
      const c = blend(blend(dull(0x3d3229), dull(0x7a6856), bark), dull(0x5c6f33), Math.min(0.85, moss));
      stand(p, px, py, c, (0.45 + 0.7 * bark) * (0.75 - 0.6 * v), q, z);
    }
  }
}

/** A board, upright or level: fractions of metres from (xa, ya) to (xb, yb). */
export function paintBoard(
  p: Plot,
  xa: number,
  ya: number,
  xb: number,
  yb: number,
  z: number,
  wood: Colour,
): void {
  const left = pictureX(p.lens, xa, z);
  const right = pictureX(p.lens, xb, z);
  const top = pictureY(p.lens, yb, z);
  const foot = pictureY(p.lens, ya, z);
  const id = Math.floor(p.r() * 1e6);
  const along = right - left > foot - top;
  for (let py = Math.max(0, Math.floor(top)); py <= Math.min(p.canvas.height - 1, Math.ceil(foot)); py++) {
    for (let px = Math.max(0, Math.floor(left)); px <= Math.min(p.canvas.width - 1, Math.ceil(right)); px++) {
      const q = Math.min(1, px - left + 0.5, right - px + 0.5, py - top + 0.5, foot - py + 0.5);
      if (q <= 0) continue;
      const grain = along ? roughNoise(px / 30, py / 1.8, id, 3) : roughNoise(px / 1.8, py / 30, id, 3);
      const edge = py - top < 1.2 || px - left < 1 ? 1.25 : foot - py < 1.3 || right - px < 1 ? 0.5 : 1;
      stand(p, px, py, wood, (0.55 + 0.7 * grain) * edge, q, z);
    }
  }
}

/** A heap of cuttings: metres; its top follows a broad bell. */
export function paintHeap(
  p: Plot,
  x: number,
  half: number,
  tall: number,
  z: number,
  colours: readonly Colour[],
): void {
  const foot = pictureY(p.lens, 0, z);
  const id = Math.floor(p.r() * 1e6);
  const left = Math.max(0, Math.floor(pictureX(p.lens, x - half, z)));
  const right = Math.min(p.canvas.width - 1, Math.ceil(pictureX(p.lens, x + half, z)));
  const crest = (px: number) => {
    const u = ((px - p.lens.centre) * z) / p.lens.focal - x;
    const bell = Math.max(0, 1 - (u / half) ** 2) ** 0.7;
    return pictureY(p.lens, tall * bell, z) + 5 * p.scale * (roughNoise(px / 10 / p.scale, 0, id, 3) - 0.5);
  };
  for (let px = left; px <= right; px++) {
    const top = crest(px);
    if (foot - top < 2) continue;
    for (let py = Math.max(0, Math.floor(top)); py <= Math.min(p.canvas.height - 1, foot); py++) {
      const n = roughNoise(px / 7 / p.scale, py / 4 / p.scale, id + 1, 4);
      const up = (foot - py) / Math.max(1, foot - top);
      stand(p, px, py, colours[0]!, (0.25 + 0.9 * n) * (0.6 + 0.5 * up), 1, z);
    }
  }
  const bits = Math.round((right - left) * 9);
  for (let i = 0; i < bits; i++) {
    const px = between(p.r, left, right);
    const top = crest(px);
    if (foot - top < 2) continue;
    const py = between(p.r, top, foot);
    const a = between(p.r, 1, 5) * p.scale;
    const c = scaled(
      pick(p.r, colours),
      between(p.r, 0.25, 1.1) * (0.6 + (0.5 * (foot - py)) / (foot - top + 1)),
    );
    leaf(p.canvas, px, py, between(p.r, -0.8, 0.8), a, Math.max(0.5, a * between(p.r, 0.1, 0.5)), ...c);
  }
}
