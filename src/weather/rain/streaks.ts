import { LIGHT_STEPS, lightOfSignal, SIGNAL_STEPS, signalOfLight } from '../gamma.js';

/** Focal length in pixels: half the width over the tangent of half the field of view (degrees). */
export function focalPixels(width: number, hfov: number): number {
  return width / 2 / Math.tan((hfov * Math.PI) / 360);
}

/** Pixels that a drop falls at `speed` m/s, `distance` m away, while the shutter is open. */
export function streakLength(focal: number, speed: number, exposure: number, distance: number): number {
  return (focal * speed * exposure) / distance;
}

/** Pixels; diameter in mm, distance in m. */
export function streakWidth(focal: number, diameter: number, distance: number): number {
  return (focal * diameter) / 1000 / distance;
}

/**
 * Share of the exposure for which a falling drop covers a point of its path: tau / T. The point shows
 * (1 - share) times what is behind and `share` times the drop (Garg & Nayar 2007).
 */
export function coverage(diameter: number, speed: number, exposure: number): number {
  return Math.min(1, diameter / 1000 / speed / exposure);
}

/** An upright stroke of drop light; pixels from the top left. */
export interface Streak {
  /** Middle of the upper end. */
  x: number;
  y: number;
  long: number;
  wide: number;
  /** Share of drop light, 0 to 1; spread over `soft` pixels at either edge. */
  share: number;
  soft: number;
  /** Linear light of the drop, 0 to 1. */
  light: number;
}

/** Draws a streak into a picture of signal values; pixels that it covers in part change in part. */
export function drawStreak(picture: Float32Array, width: number, height: number, s: Streak): void {
  if (isDot(s)) {
    drawDot(picture, width, height, s);
    return;
  }
  // Thousands fall in a frame: names held here, and nothing called for a pixel.
  const [toLight, toSignal, fine, steps] = [lightOfSignal, signalOfLight, SIGNAL_STEPS, LIGHT_STEPS];
  const top = 255 * fine;
  const { light } = s;
  const { left, right, first, last } = reach(width, height, s);
  const inColumn = columns(s, left, right);
  const bottom = s.y + s.long;
  for (let py = first; py <= last; py++) {
    const share = s.share * along(py, s.y, bottom, s.soft);
    if (share <= 0) continue;
    for (let at = py * width + left, k = 0; k <= right - left; at++, k++) {
      const step = picture[at]! * fine + 0.5;
      const was = toLight[step <= 0 ? 0 : step >= top ? top : step | 0]!;
      picture[at] = toSignal[((was + (light - was) * share * inColumn[k]!) * steps + 0.5) | 0]!;
    }
  }
}

/** Less far from its middle than this what is drawn has no shape; pixels. */
const SHAPELESS = 1.5;

/** Whether it stands still while the shutter is open, and is large enough to be seen as round. */
function isDot({ long, wide, soft }: Streak): boolean {
  return long <= wide && wide / 2 + soft > SHAPELESS;
}

function drawDot(picture: Float32Array, width: number, height: number, s: Streak): void {
  eachPixelOfDot(width, height, s, (at, share) => mixLight(picture, at, s.light, share));
}

/**
 * Every pixel that a round drop covers, which stands still, with the share of drop light in it: its disc seen through the
 * lens's, both even. Their overlap is written as the larger one's edge, softened as a straight edge by the smaller would be;
 * the edge stands where all the light of the drop is kept.
 */
export function eachPixelOfDot(
  width: number,
  height: number,
  s: Streak,
  see: (at: number, share: number) => void,
): void {
  const [drop, blur] = [s.wide / 2, Math.max(0.5, s.soft)];
  const [less, more] = [Math.min(drop, blur), Math.max(drop, blur)];
  const edge = Math.sqrt(more * more - (less * less) / 4);
  const share = s.share * Math.min(1, (drop / blur) ** 2);
  const { left, right, first, last } = reach(width, height, s);
  const middle = s.y + s.long / 2;
  for (let py = first; py <= last; py++) {
    const down = (py + 0.5 - middle) ** 2;
    for (let px = left; px <= right; px++) {
      const q = share * opening((edge - Math.sqrt(down + (px + 0.5 - s.x) ** 2)) / less);
      if (q > 0) see(py * width + px, q);
    }
  }
}

/** Columns and rows that a streak may reach, both ends with them. */
function reach(width: number, height: number, s: Streak) {
  const half = s.wide / 2 + s.soft;
  return {
    left: Math.max(0, Math.floor(s.x - half)),
    right: Math.min(width - 1, Math.floor(s.x + half)),
    first: Math.max(0, Math.floor(s.y - s.soft)),
    last: Math.min(height - 1, Math.floor(s.y + s.long + s.soft)),
  };
}

let kept = new Float64Array(0);

/** A ball that passes covers its middle's path for `coverage`, its sides' for less: on average over its width so much of that. */
const OF_MIDDLE = Math.PI / 4;

/** Share of each column from left to right that lies within a streak; the same array every time. */
function columns({ x, wide, soft }: Streak, left: number, right: number): Float64Array {
  if (kept.length < right - left + 1) kept = new Float64Array(2 * (right - left + 1));
  const half = (OF_MIDDLE * wide) / 2;
  for (let px = left; px <= right; px++) kept[px - left] = along(px, x - half, x + half, soft);
  return kept;
}

/** Mixes a share of other light into a pixel; light adds up before the gamma curve. */
export function mixLight(picture: Float32Array, at: number, other: number, share: number): void {
  const light = lightOf(picture[at]!);
  picture[at] = signalOfLight[((light + (other - light) * share) * LIGHT_STEPS + 0.5) | 0]!;
}

/** Linear light, 0 to 1, of a signal value; what is beyond its ends counts as they do. */
export function lightOf(signal: number): number {
  return lightOfSignal[(Math.min(255, Math.max(0, signal)) * SIGNAL_STEPS + 0.5) | 0]!;
}

/** Share of a pixel from p to p + 1, or of the blur about its middle where that is wider, that lies between two edges. */
function along(p: number, from: number, to: number, soft: number): number {
  if (soft <= 0.5) return Math.max(0, Math.min(p + 1, to) - Math.max(p, from));
  const middle = p + 0.5;
  return opening((to - middle) / soft) - opening((from - middle) / soft);
}

/** Steps of the table below from the middle to the edge. */
const HALF = 1024;
/** What a lens's round opening of radius 1 lets by on one side of a straight edge, at index (1 + edge) * HALF + 0.5. */
const openings = Float64Array.from({ length: 2 * HALF + 1 }, (_, i) => {
  const edge = i / HALF - 1;
  return 0.5 + (edge * Math.sqrt(1 - edge * edge) + Math.asin(edge)) / Math.PI;
});

function opening(edge: number): number {
  return edge <= -1 ? 0 : edge >= 1 ? 1 : openings[((1 + edge) * HALF + 0.5) | 0]!;
}
