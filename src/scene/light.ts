import { between, normal, type Random, spread } from '../base/random.js';
import { StretchIndex } from '../score/stretch-index.js';
import type { SceneSpec } from './spec.js';

/** Seconds: the longest exposure of the camera; and the most gain it adds after that. */
export const longest = 1 / 30;
const mostGain = 8;
/** Exposure (seconds times gain) that a scene of 1 lux needs: 1/500 s at 10,000 lux. */
const needed = 20;

/** Light and exposure of every frame. */
export interface Light {
  /** Share of the light that comes straight from the sun, 0..1. */
  sun: Float32Array;
  /** What the picture's linear light is multiplied by: 1 while the exposure is right. */
  level: Float32Array;
  /** Seconds. */
  exposure: Float32Array;
  gain: Float32Array;
  /** Stretches in which the light or the exposure changed at once over the whole picture, seconds. */
  changes: { start: number; end: number }[];
}

/** Share of direct sun in a day of so many lux: none in overcast below 5,000, most of it from 30,000. */
function directShare(lux: number): number {
  return 0.7 * Math.min(1, Math.max(0, (Math.log10(lux) - 3.7) / 0.78));
}

/** Daylight over a clip: a steady or an evenly falling level, passing clouds, slow flicker, and the exposure that follows in steps. */
export function daylight(spec: SceneSpec, frames: number, r: Random): Light {
  const { rate } = spec;
  const { light } = spec.conditions;
  const end = spec.lightAtEnd ?? light;
  const clouds = passages(spec, frames / rate, r);
  const passing = new StretchIndex(clouds);
  const out: Light = {
    sun: new Float32Array(frames),
    level: new Float32Array(frames),
    exposure: new Float32Array(frames),
    gain: new Float32Array(frames),
    changes: clouds.flatMap((c) => [
      { start: c.start, end: c.start + c.ramp },
      { start: c.end - c.ramp, end: c.end },
    ]),
  };
  const keep = Math.exp(-1 / rate / 4);
  let flicker = normal(r);
  let set = 0;
  let off = 0;
  for (let k = 0; k < frames; k++) {
    const t = k / rate;
    let cover = 0;
    let lost = 0;
    for (const i of passing.at(t)) {
      const c = clouds[i]!;
      const q = smooth(Math.min((t - c.start) / c.ramp, (c.end - t) / c.ramp));
      cover = Math.max(cover, q);
      lost = Math.max(lost, q * c.depth);
    }
    flicker = flicker * keep + normal(r) * Math.sqrt(1 - keep * keep);
    const base = light * (end / light) ** (k / Math.max(1, frames - 1));
    const lux = base * (1 - lost) * (1 + 0.006 * flicker);
    const want = Math.min(needed / lux, longest * mostGain);
    const stops = set === 0 ? 0 : Math.log2(want / set);
    if (set === 0) set = want;
    off = Math.abs(stops) > 0.4 ? off + 1 / rate : 0;
    if (off > 1) {
      // One step of at most half a stop, then it waits again: the way a simple exposure control hunts.
      set *= 2 ** Math.max(-0.5, Math.min(0.5, stops));
      off = 0;
      out.changes.push({ start: Math.max(0, t - 1 / rate), end: t });
    }
    out.exposure[k] = Math.min(set, longest);
    out.gain[k] = Math.max(1, set / longest);
    out.level[k] = (lux * set) / needed;
    out.sun[k] = directShare(base) * (1 - cover);
  }
  return out;
}

function passages(spec: SceneSpec, seconds: number, r: Random) {
  return spread(r, spec.clouds ?? 0, seconds).map((start) => {
    const ramp = between(r, 3, 7);
    return { start, ramp, end: start + 2 * ramp + between(r, 6, 18), depth: between(r, 0.5, 0.7) };
  });
}

function smooth(x: number): number {
  const t = Math.min(1, Math.max(0, x));
  return t * t * (3 - 2 * t);
}
