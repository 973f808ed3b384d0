import { chance, mix } from '../base/random.js';
import type { Garden } from './garden.js';
import { groundDistance, type Lens } from './lens.js';
import { type Canvas, stroke } from './paint.js';

/** Metres between which single drops are drawn: nearer ones would hit the lens, farther ones are too faint to see. */
const near = 0.25;
const far = 3;
const mostDrops = 1500;

/** Terminal speed of a drop of `d` mm, m/s (Atlas et al. 1973). */
function fallSpeed(d: number): number {
  return Math.max(0, 9.65 - 10.3 * Math.exp(-0.6 * d));
}

/** Rain in the air, on the leaves, on the ground and on the water, at `rate` mm/h. */
export class Rain {
  readonly rate: number;
  readonly #seed: number;
  readonly #lens: Lens;
  readonly #drops: number;
  /** Slope of the drop sizes, 1/mm. */
  readonly #slope: number;
  readonly #cover: boolean;

  constructor(rate: number, garden: Garden, cover: boolean, seed: number) {
    this.rate = rate;
    this.#seed = seed;
    this.#lens = garden.lens;
    this.#cover = cover;
    // Drops above 1 mm in a cubic metre (Marshall & Palmer 1948; 8000 from memory), times the space seen between near
    // and far.
    this.#slope = rate > 0 ? 4.1 * rate ** -0.21 : 1;
    const perCubicMetre = rate > 0 ? (8000 / this.#slope) * Math.exp(-this.#slope) : 0;
    const area = (garden.width * garden.height) / garden.lens.focal ** 2;
    this.#drops = Math.min(mostDrops, Math.round((perCubicMetre * area * (far ** 3 - near ** 3)) / 3));
  }

  /** How much of the light is scattered haze. */
  get veil(): number {
    return 0.16 * (1 - Math.exp(-this.rate / 8));
  }

  /** Chance that a drop or drip knocks a given leaf in one frame of `seconds`. */
  knocks(seconds: number): number {
    return 1 - Math.exp(-0.045 * this.rate * seconds);
  }

  /** Streaks of one frame: length focal v T / z, width focal D / z, brightness by the drop's dwell on a pixel (Garg & Nayar 2007). */
  drawStreaks(c: Canvas, frame: number, exposure: number, wind: number): void {
    for (let n = 0; n < this.#drops; n++) {
      const id = mix(frame, n, this.#seed);
      const z = (near ** 3 + chance(id, 1, 0) * (far ** 3 - near ** 3)) ** (1 / 3);
      const d = Math.min(5.8, 1 - Math.log(1 - chance(id, 2, 0)) / this.#slope);
      const v = fallSpeed(d);
      const long = (this.#lens.focal * v * exposure) / z;
      const slant = (wind * 0.7) / v;
      // Out of focus: a lens of 1.5 mm focused at 2 m.
      const blur = 0.0015 * this.#lens.focal * Math.abs(1 / z - 0.5);
      const wide = (this.#lens.focal * d) / 1000 / z;
      const dwell = Math.min(1, d / 1000 / v / exposure);
      const strength = dwell * (wide / (wide + blur));
      const x = chance(id, 3, 0) * (c.width + 20) - 10;
      const y = chance(id, 4, 0) * (c.height + long) - long;
      streak(c, x, y, long, slant, wide + blur, Math.min(0.5, strength));
    }
    this.#drawDrip(c, frame, exposure);
  }

  /** Water that gathers above the lens and falls past it, far out of focus; more of it without a cover. */
  #drawDrip(c: Canvas, frame: number, exposure: number): void {
    if (
      this.rate === 0 ||
      chance(frame, 5, this.#seed) > (this.#cover ? 0.006 : 0.02) * Math.min(4, this.rate)
    )
      return;
    const s = c.width / 320;
    const x = chance(frame, 6, this.#seed) * c.width;
    const y = chance(frame, 7, this.#seed) * c.height;
    const long = Math.min(c.height, (this.#lens.focal * 2.5 * exposure) / 0.12);
    const wide = (9 + 14 * chance(frame, 8, this.#seed)) * s;
    stroke(
      c,
      x,
      y - long / 2,
      x,
      y + long / 2,
      wide,
      0.5,
      0.53,
      0.55,
      0.12 + 0.16 * chance(frame, 9, this.#seed),
      wide * 0.8,
    );
  }

  /** Where drops strike the ground: crowns of a centimetre that last for one frame. */
  drawSplashes(c: Canvas, frame: number): void {
    const top = Math.max(0, this.#lens.horizon + 12);
    const n = Math.min(400, Math.round(16 * this.rate));
    for (let i = 0; i < n; i++) {
      const id = mix(frame, i, this.#seed ^ 0x51a5);
      const y = top + chance(id, 1, 0) ** 0.7 * (c.height - top);
      const z = groundDistance(this.#lens, y);
      const size = (0.006 * this.#lens.focal) / z;
      const x = chance(id, 2, 0) * c.width;
      stroke(
        c,
        x - size,
        y,
        x + size,
        y - size * 0.6,
        Math.max(0.6, size),
        0.36,
        0.38,
        0.4,
        0.25 * chance(id, 3, 0) + 0.08,
      );
    }
  }

  /** Rings on water of a radius in metres: x, z from its middle, and age in seconds. */
  rings(time: number, radius: number): [number, number, number][] {
    if (this.rate === 0) return [];
    const out: [number, number, number][] = [];
    const bin = 0.1;
    // Drops large enough to show strike a square metre some hundred times a second in moderate rain.
    const expected = Math.min(4, 22 * this.rate * radius * radius * bin);
    for (let b = Math.floor((time - 0.6) / bin); b * bin <= time; b++) {
      for (let i = 0; i < Math.ceil(expected); i++) {
        const id = mix(b, i, this.#seed ^ 0x2217);
        const age = time - b * bin - bin * chance(id, 1, 0);
        if (age <= 0 || age >= 0.6 || chance(id, 2, 0) * Math.ceil(expected) > expected) continue;
        const far = Math.sqrt(chance(id, 3, 0)) * radius;
        const turn = chance(id, 4, 0) * 2 * Math.PI;
        out.push([far * Math.cos(turn), far * Math.sin(turn), age]);
      }
    }
    return out;
  }
}

/** A nearly upright line of light, row by row. */
function streak(
  c: Canvas,
  x: number,
  y: number,
  long: number,
  slant: number,
  wide: number,
  strength: number,
): void {
  const y0 = Math.max(0, Math.round(y));
  const y1 = Math.min(c.height - 1, Math.round(y + long));
  const d = c.rgb;
  for (let py = y0; py <= y1; py++) {
    const left = x + (py - y) * slant - wide / 2;
    const right = left + wide;
    const x0 = Math.max(0, Math.floor(left + 0.5));
    const x1 = Math.min(c.width - 1, Math.floor(right + 0.5));
    for (let px = x0; px <= x1; px++) {
      const q = (Math.min(px + 0.5, right) - Math.max(px - 0.5, left)) * strength;
      if (q <= 0) continue;
      const i = (py * c.width + px) * 3;
      // A drop shows the whole sky, bent: it is brighter than what is behind it (Garg & Nayar 2007).
      d[i] = d[i]! + (0.62 - d[i]!) * q;
      d[i + 1] = d[i + 1]! + (0.65 - d[i + 1]!) * q;
      d[i + 2] = d[i + 2]! + (0.68 - d[i + 2]!) * q;
    }
  }
}
