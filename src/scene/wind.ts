import { between, normal, type Random } from '../base/random.js';

/** Substeps of the sway are this long, seconds. */
const step = 0.05;
/** Wind starts this long before the clip, so that nothing starts at rest. */
const lead = 20;

/**
 * Gusts at the height of the foliage: metres per second every 0.05 s, the first `lead` seconds before the clip.
 * Mean: Beaufort B is 0.836 B^1.5 m/s at 10 m (the formula from memory; the scale is in WMO No. 8), taken down to 2 m by
 * the log profile over hedges, ln(2/z0)/ln(10/z0), z0 0.25 m. Turbulence intensity 1/ln(z/z0) (form of EN 1991-1-4, from
 * memory). Its time scales are ours: three first-order series of 25, 5 and 1 s, as gusts and lulls among low plants.
 */
export interface Gusts {
  mean: number;
  speed: Float32Array;
}

export function gusts(beaufort: number, seconds: number, r: Random): Gusts {
  const rough = 0.25;
  const mean = 0.836 * beaufort ** 1.5 * (Math.log(2 / rough) / Math.log(10 / rough));
  const intensity = 1 / Math.log(2 / rough);
  const scales = [25, 5, 1] as const;
  const shares = [0.64, 0.68, 0.36] as const;
  const state = scales.map(() => normal(r));
  const speed = new Float32Array(Math.ceil((seconds + lead) / step) + 2);
  for (let i = 0; i < speed.length; i++) {
    let sum = 0;
    for (let j = 0; j < scales.length; j++) {
      const keep = Math.exp(-step / scales[j]!);
      state[j] = state[j]! * keep + normal(r) * Math.sqrt(1 - keep * keep);
      sum += shares[j]! * state[j]!;
    }
    speed[i] = mean * Math.max(0, 1 + intensity * sum);
  }
  return { mean, speed };
}

/** Metres per second at second t of the clip. */
export function windAt(g: Gusts, t: number): number {
  const i = Math.round((t + lead) / step);
  return g.speed[Math.max(0, Math.min(g.speed.length - 1, i))]!;
}

/** A branch or tuft: hertz, damping ratio, and how long after the frame's left edge a gust reaches it. */
export interface Oscillator {
  frequency: number;
  damping: number;
  /** Metres from the left edge of the view. */
  downwind: number;
}

/** Deflections are given in units of the one at rest in this wind, m/s. */
const referenceWind = 6;

/**
 * Displacement of every oscillator at every frame, frame by frame: frames * oscillators, 1 = the steady deflection
 * in a wind of 6 m/s. Each is a damped oscillator driven by drag, which grows with the square of the wind, stepped exactly for
 * a force held over the substep. Frequencies and damping of branches: about 1.4-2.6 Hz (Rodriguez et al. 2008, from
 * memory). How far a branch goes in a given wind is an assumption of ours.
 */
export function sway(
  list: readonly Oscillator[],
  g: Gusts,
  frames: number,
  rate: number,
  r: Random,
): Float32Array {
  const out = new Float32Array(frames * list.length);
  list.forEach((o, column) => {
    const w = 2 * Math.PI * o.frequency;
    const wd = w * Math.sqrt(1 - o.damping * o.damping);
    const e = Math.exp(-o.damping * w * step);
    const c = e * Math.cos(wd * step);
    const s = (e * Math.sin(wd * step)) / wd;
    const dz = o.damping * w;
    const delay = Math.round(o.downwind / Math.max(0.5, g.mean) / step);
    const keep = Math.exp(-step / between(r, 0.4, 0.9));
    const kick = Math.sqrt(1 - keep * keep);
    let own = normal(r);
    let x = 0;
    let v = 0;
    let frame = 0;
    for (let i = 0; frame < frames; i++) {
      const u = g.speed[Math.max(0, Math.min(g.speed.length - 1, i - delay))]! / referenceWind;
      own = own * keep + normal(r) * kick;
      const force = u * u * Math.max(0, 1 + 0.25 * own);
      const y = x - force;
      x = y * (c + dz * s) + v * s + force;
      v = -y * w * w * s + v * (c - dz * s);
      while (frame < frames && i * step - lead >= frame / rate) out[frame++ * list.length + column] = x;
    }
  });
  return out;
}
