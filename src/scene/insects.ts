import { between, type Random, spread } from '../base/random.js';
import { type Canvas, stroke } from './paint.js';

/** An insect close before the lens: out of focus and smeared by its own speed. Pixels, first frame and how many. */
export interface Insect {
  frame: number;
  frames: number;
  x: number;
  y: number;
  /** Pixels for each frame, and smeared during one. */
  vx: number;
  vy: number;
  smear: number;
  size: number;
  tone: number;
  strength: number;
}

export function insects(
  perHour: number,
  seconds: number,
  rate: number,
  width: number,
  height: number,
  r: Random,
): Insect[] {
  return spread(r, perHour, seconds).map((t) => {
    const dark = r() < 0.6;
    const frames = 1 + Math.floor(r() * 3);
    const turn = between(r, 0, 2 * Math.PI);
    const speed = between(r, 0.06, 0.28) * width;
    return {
      frame: Math.floor(t * rate),
      frames,
      x: between(r, 0.15, 0.85) * width,
      y: between(r, 0.1, 0.85) * height,
      vx: Math.cos(turn) * speed,
      vy: Math.sin(turn) * speed * 0.6,
      smear: between(r, 0.1, 0.35),
      size: (between(r, 4, 18) * width) / 320,
      tone: dark ? 0.02 : 0.55,
      strength: dark ? between(r, 0.35, 0.75) : between(r, 0.25, 0.55),
    };
  });
}

export function drawInsects(c: Canvas, list: readonly Insect[], frame: number): void {
  for (const n of list) {
    const k = frame - n.frame;
    if (k < 0 || k >= n.frames) continue;
    const x = n.x + n.vx * k;
    const y = n.y + n.vy * k;
    const { tone, size, smear } = n;
    stroke(
      c,
      x,
      y,
      x + n.vx * smear,
      y + n.vy * smear,
      size,
      tone,
      tone * 0.95,
      tone * 0.85,
      n.strength,
      size * 0.6,
    );
  }
}
