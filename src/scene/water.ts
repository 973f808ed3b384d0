import { between, type Random } from '../base/random.js';
import { blend, screen } from './colour.js';
import type { Moment } from './foliage.js';
import { groundDistance, type Lens } from './lens.js';
import type { Canvas } from './paint.js';
import { smoothNoise } from './texture.js';

const shades = 64;
/** Cosines of a full turn: thousands are wanted for every frame. */
const turn = 1024;
const cosine = Float32Array.from({ length: turn }, (_, i) => Math.cos((2 * Math.PI * i) / turn));
const perRadian = turn / (2 * Math.PI);

/** The water of a bowl: its pixels, what each mirrors when still, and the waves that run over it. */
export interface Water {
  /** Metres: middle and radius. */
  x: number;
  z: number;
  radius: number;
  pixels: Int32Array;
  /** Metres from the middle, x then z, for each pixel. */
  places: Float32Array;
  /** 0 the dark hedge .. 1 the sky, for each pixel. */
  mirrored: Float32Array;
  palette: Float32Array;
  waves: { kx: number; kz: number; pace: number; phase: number; share: number }[];
}

export function fillBowl(
  c: Canvas,
  lens: Lens,
  x: number,
  z: number,
  radius: number,
  seed: number,
  r: Random,
): Water {
  const pixels: number[] = [];
  const places: number[] = [];
  const mirrored: number[] = [];
  for (let py = Math.max(0, Math.ceil(lens.horizon + 1)); py < c.height; py++) {
    const pz = groundDistance(lens, py);
    for (let px = 0; px < c.width; px++) {
      const dx = ((px - lens.centre) * pz) / lens.focal - x;
      const dz = pz - z;
      if (dx * dx + dz * dz > radius * radius) continue;
      pixels.push(py * c.width + px);
      places.push(dx, dz);
      const hedge =
        0.25 + 0.5 * smoothNoise(dx * 14, 0, seed) + 0.2 * smoothNoise(dx * 50, dz * 20, seed + 1);
      mirrored.push(Math.min(1, Math.max(0, 0.5 + (hedge * 0.6 - 0.3 - (dz / radius) * 0.55) * 1.6)));
    }
  }
  const palette = new Float32Array(shades * 3);
  for (let i = 0; i < shades; i++) {
    const t = i / (shades - 1);
    palette.set(blend(screen(0x252d24), screen(0xb4c3cd), t * t * (3 - 2 * t)), i * 3);
  }
  const waves = Array.from({ length: 5 }, (_, i) => {
    const long = between(r, 0.16, 0.22) / (1 + i * 0.8);
    const way = between(r, -1.1, 1.1);
    const k = (2 * Math.PI) / long;
    // Deep-water dispersion, w^2 = g k, holds well enough for ripples of centimetres.
    return {
      kx: k * Math.cos(way),
      kz: k * Math.sin(way),
      pace: Math.sqrt(9.81 * k),
      phase: r() * 6.28,
      share: 0.28 - 0.03 * i,
    };
  });
  return {
    x,
    z,
    radius,
    pixels: Int32Array.from(pixels),
    places: Float32Array.from(places),
    mirrored: Float32Array.from(mirrored),
    palette,
    waves,
  };
}

/** Ripples grow with the wind, glints with the sun; `rings` are rain: x, z (metres from the middle) and age (s). */
export function drawWater(
  c: Canvas,
  w: Water,
  m: Moment,
  rings: readonly (readonly [number, number, number])[],
): void {
  const steep = Math.min(1, (m.wind / 6) ** 1.5);
  const d = c.rgb;
  const turns = w.waves.map((v) => v.phase - v.pace * m.time);
  for (let n = 0; n < w.pixels.length; n++) {
    const x = w.places[n * 2]!;
    const z = w.places[n * 2 + 1]!;
    let slope = 0;
    if (steep > 0.002) {
      for (let i = 0; i < w.waves.length; i++) {
        const v = w.waves[i]!;
        slope += v.share * cosine[((v.kx * x + v.kz * z + turns[i]!) * perRadian) & (turn - 1)]!;
      }
      slope *= steep;
    }
    for (const [rx, rz, age] of rings) {
      const dx = x - rx;
      const dz = z - rz;
      const square = dx * dx + dz * dz;
      const outer = age * 0.35 + 0.02;
      if (square > outer * outer) continue;
      const far = Math.sqrt(square) - age * 0.35;
      if (far > -0.05) slope += 0.32 * Math.sin(far * 180) * (1 - age / 0.6);
    }
    const t = w.mirrored[n]! + slope * 0.9;
    const j = 3 * (t <= 0 ? 0 : t >= 1 ? shades - 1 : (t * (shades - 1)) | 0);
    const glint = slope > 0.42 ? (slope - 0.42) * 3.2 * m.sun : 0;
    const i = w.pixels[n]! * 3;
    d[i] = w.palette[j]! + glint;
    d[i + 1] = w.palette[j + 1]! + glint;
    d[i + 2] = w.palette[j + 2]! + glint;
  }
}
