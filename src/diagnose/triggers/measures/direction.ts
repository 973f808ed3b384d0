import { type Look, median, pixelsOf } from '../look.js';

/** Which way the grey levels went, here and over the whole frame. */
export interface Direction {
  /** -1 all darker .. 1 all lighter, within the region. */
  region: number;
  /** The same over all changed pixels, as a size: 1 all one way. */
  changed: number;
  /** The middle change of the frame in thresholds: away from 0 when the light or the exposure stepped. */
  whole: number;
  /** Share of the frame that went the way of the middle change, by at least a quarter of the threshold. */
  together: number;
  /** How strongly the region changed, in thresholds. */
  strength: number;
  /** Spread of the change over the frame, as the standard deviation of noise that would give it, in thresholds. */
  noise: number;
}

/** Pixels looked at for what goes for the whole frame. */
const SAMPLE = 9000;
/** Standard deviation over median absolute deviation, of a normal distribution. */
const NORMAL = 1.4826;

export function direction({ frames, at, reference, difference, level, region }: Look): Direction {
  const { y } = frames[at]!;
  let [up, changed] = [0, 0];
  for (let i = 0; i < y.length; i++) {
    if (difference[i]! < level) continue;
    changed++;
    up += Math.sign(y[i]! - reference[i]!);
  }
  const inside = pixelsOf(region, SAMPLE);
  let [way, sum] = [0, 0];
  for (const i of inside) {
    way += Math.sign(y[i]! - reference[i]!);
    sum += Math.abs(y[i]! - reference[i]!);
  }
  const step = Math.max(1, Math.floor(y.length / SAMPLE));
  const all = new Float32Array(Math.floor(y.length / step));
  for (let j = 0; j < all.length; j++) all[j] = y[j * step]! - reference[j * step]!;
  const middle = median(all.slice());
  const away = middle < 0 ? -1 : 1;
  const least = Math.max(1, level / 4);
  let together = 0;
  for (let j = 0; j < all.length; j++) {
    if (all[j]! * away >= least) together++;
    all[j] = Math.abs(all[j]! - middle);
  }
  const n = Math.max(1, inside.length);
  return {
    region: way / n,
    changed: changed === 0 ? 0 : Math.abs(up) / changed,
    whole: Math.abs(middle) / level,
    together: together / all.length,
    strength: sum / n / level,
    noise: (NORMAL * median(all)) / level,
  };
}
