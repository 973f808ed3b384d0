import { boxOf, type Look, medianByte, type PixelBox } from '../look.js';

/** How unlike its usual look the neighbourhood of what fired was, then and in the moments around. */
export interface Novelty {
  /** Share of the region that looked unlike its usual self. */
  here: number;
  /** Unlike pixels about the region in the frame before and the frame after, over those in the frame that fired. */
  before: number;
  after: number;
  /** The same a second before and a second after. */
  earlier: number;
  later: number;
  /** The same on average over all frames that are further away. */
  ordinary: number;
}

/** Points looked at about the region, and frames that say how they usually look. */
const POINTS = 2000;
const MEDIAN_OF = 21;
/** Seconds from the trigger from which a frame counts as usual. */
const AWAY = 2;
/** Pixels added to the region's box at least, on every side; half its size if that is more. */
const MARGIN = 12;
/** Ratios to the frame that fired are cut off here: beyond it they say nothing more. */
const MOST = 3;

export function novelty(look: Look): Novelty {
  const { frames, at, level, region } = look;
  const { time } = frames[at]!;
  const points = pointsIn(grown(boxOf(region), look), look.width);
  const away = frames.filter((f) => Math.abs(f.time - time) >= AWAY);
  const others = away.length >= 5 ? away : frames;
  const usual = usualAt(others, points);
  const tolerance = Math.max(4, 0.6 * level);
  const unlike = (y: Uint8Array) => {
    let n = 0;
    for (let j = 0; j < points.length; j++) if (Math.abs(y[points[j]!]! - usual[j]!) >= tolerance) n++;
    return n;
  };

  const { y } = frames[at]!;
  let [inside, strange] = [0, 0];
  for (let j = 0; j < points.length; j++) {
    if (region.mask[points[j]!] !== 1) continue;
    inside++;
    if (Math.abs(y[points[j]!]! - usual[j]!) >= tolerance) strange++;
  }
  const now = Math.max(1, unlike(y));
  const share = (f: Look['frames'][number] | undefined) => (f ? Math.min(MOST, unlike(f.y) / now) : 0);
  const nearest = (t: number) =>
    frames.reduce((best, f) => (Math.abs(f.time - t) < Math.abs(best.time - t) ? f : best), frames[at]!);
  const step = Math.max(1, Math.floor(others.length / MEDIAN_OF));
  const some = others.filter((_, j) => j % step === 0);
  return {
    here: inside === 0 ? 0 : strange / inside,
    before: share(frames[at - 1]),
    after: share(frames[at + 1]),
    earlier: share(nearest(time - 1)),
    later: share(nearest(time + 1)),
    ordinary: some.reduce((sum, f) => sum + share(f), 0) / Math.max(1, some.length),
  };
}

function grown({ left, top, right, bottom }: PixelBox, { width, height }: Look): PixelBox {
  const x = Math.max(MARGIN, Math.round((right - left) / 2));
  const y = Math.max(MARGIN, Math.round((bottom - top) / 2));
  return {
    left: Math.max(0, left - x),
    top: Math.max(0, top - y),
    right: Math.min(width, right + x),
    bottom: Math.min(height, bottom + y),
  };
}

/** Places in the frame, evenly over a box. */
function pointsIn({ left, top, right, bottom }: PixelBox, width: number): Int32Array {
  const step = Math.max(1, Math.ceil(Math.sqrt(((right - left) * (bottom - top)) / POINTS)));
  const out: number[] = [];
  for (let y = top; y < bottom; y += step) for (let x = left; x < right; x += step) out.push(y * width + x);
  return Int32Array.from(out);
}

function usualAt(frames: Look['frames'], points: Int32Array): Uint8Array {
  const step = Math.max(1, Math.floor(frames.length / MEDIAN_OF));
  const some = frames.filter((_, j) => j % step === 0);
  const column = new Uint8Array(some.length);
  return Uint8Array.from(points, (i) => {
    for (let j = 0; j < some.length; j++) column[j] = some[j]!.y[i]!;
    return medianByte(column);
  });
}
