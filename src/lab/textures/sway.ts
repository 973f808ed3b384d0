import { between, normal, type Random } from '../../base/random.js';
import { noiseField } from './ground.js';

/** How far every pixel of a picture is off, frame by frame: what hangs and stands in the wind. */
export interface Sway {
  /** Writes how far each pixel is off, right and down, at a frame. */
  at(frame: number, dx: Float32Array, dy: Float32Array): void;
}

interface Limb {
  /** How much of its swing each pixel has. */
  share: Float32Array;
  x: number;
  y: number;
  /** Its swing, frame by frame, 1 = far. */
  swing: Float32Array;
}

/**
 * Patches that swing at their own pace under gusts they share, and leaves that flutter in them. Not how plants move but
 * how they look when they do; drawn otherwise than the gardens of src/scene, so that no way of drawing is learnt by heart.
 */
export function sway(
  width: number,
  height: number,
  rate: number,
  frames: number,
  strength: number,
  r: Random,
): Sway {
  const gust = gusts(rate, frames, r);
  const limbs: Limb[] = [];
  const count = 2 + Math.floor(r() * 7);
  for (let n = 0; n < count; n++) {
    const far = strength * 2 ** between(r, -1, 1.2);
    const turn = between(r, -0.6, 0.6);
    limbs.push({
      share: patch(width, height, r),
      x: far * Math.cos(turn),
      y: far * Math.sin(turn),
      swing: swing(between(r, 0.25, 2.8), rate, gust, r),
    });
  }
  const leaves = Math.floor(r() * 4);
  for (let n = 0; n < leaves; n++) {
    const cell = between(r, 4, 14);
    const where = patch(width, height, r);
    const share = noiseField(width, height, cell, cell, r).map((v, i) => v * where[i]!);
    const far = strength * between(r, 0.1, 0.5);
    limbs.push({
      share,
      x: far,
      y: far * between(r, -1, 1),
      swing: swing(between(r, 1.5, 6), rate, gust, r),
    });
  }
  return {
    at(frame, dx, dy) {
      dx.fill(0);
      dy.fill(0);
      for (const { share, x, y, swing } of limbs) {
        const q = swing[frame]!;
        for (let i = 0; i < dx.length; i++) {
          dx[i]! += share[i]! * x * q;
          dy[i]! += share[i]! * y * q;
        }
      }
    },
  };
}

/** Where a limb is: a soft patch, or now and then the whole picture unevenly. */
function patch(width: number, height: number, r: Random): Float32Array {
  if (r() < 0.3)
    return noiseField(width, height, width / 3, height / 3, r).map((v) => Math.min(1, Math.abs(v)));
  const [cx, cy] = [r() * width, r() * height];
  const [rx, ry] = [between(r, 0.06, 0.4) * width, between(r, 0.06, 0.5) * height];
  const edge = noiseField(width, height, 18, 18, r);
  return Float32Array.from({ length: width * height }, (_, i) => {
    const d = Math.hypot(((i % width) - cx) / rx, (Math.floor(i / width) - cy) / ry) + 0.15 * edge[i]!;
    return Math.min(1, Math.max(0, 1.6 - 1.2 * d));
  });
}

/** Strength of the wind, frame by frame, about 1: slow gusts and quick ones. */
function gusts(rate: number, frames: number, r: Random): Float32Array {
  const out = new Float32Array(frames);
  let [slow, quick] = [normal(r), normal(r)];
  for (let k = 0; k < frames; k++) {
    const [a, b] = [Math.exp(-1 / rate / 8), Math.exp(-1 / rate / 1.2)];
    slow = a * slow + Math.sqrt(1 - a * a) * normal(r);
    quick = b * quick + Math.sqrt(1 - b * b) * normal(r);
    out[k] = Math.max(0, 1 + 0.45 * slow + 0.25 * quick);
  }
  return out;
}

/** An oscillator driven by the wind's square and by chance, stepped finely; lean and swing together. */
function swing(hertz: number, rate: number, gust: Float32Array, r: Random): Float32Array {
  const steps = Math.max(4, Math.ceil((hertz * 24) / rate));
  const dt = 1 / rate / steps;
  const w = 2 * Math.PI * hertz;
  const damping = between(r, 0.04, 0.25);
  let [q, v] = [0.4, 0];
  const out = new Float32Array(gust.length);
  for (let k = 0; k < gust.length; k++) {
    for (let s = 0; s < steps; s++) {
      const push = 0.4 * gust[k]! ** 2 + (0.5 * gust[k]! * normal(r)) / Math.sqrt(w * dt);
      v += dt * (w * w * (push - q) - 2 * damping * w * v);
      q += dt * v;
    }
    out[k] = Math.max(-3, Math.min(3, q));
  }
  return out;
}
