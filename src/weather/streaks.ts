import { LIGHT_STEPS, lightOfSignal, SIGNAL_STEPS, signalOfLight } from './gamma.js';

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

/** Every pixel that a streak covers, with the share of drop light in it. */
export function eachPixel(
  width: number,
  height: number,
  s: Streak,
  see: (at: number, share: number) => void,
): void {
  const { left, right, first, last } = reach(width, height, s);
  const inColumn = columns(s, left, right);
  for (let py = first; py <= last; py++) {
    const share = s.share * along(py, s.y, s.y + s.long, s.soft);
    if (share <= 0) continue;
    for (let px = left; px <= right; px++) {
      const q = share * inColumn[px - left]!;
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

/** Share of each column from left to right that lies within a streak; the same array every time. */
function columns({ x, wide, soft }: Streak, left: number, right: number): Float64Array {
  if (kept.length < right - left + 1) kept = new Float64Array(2 * (right - left + 1));
  for (let px = left; px <= right; px++) kept[px - left] = along(px, x - wide / 2, x + wide / 2, soft);
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
  const half = Math.max(0.5, soft);
  const middle = p + 0.5;
  return Math.max(0, Math.min(middle + half, to) - Math.max(middle - half, from)) / (2 * half);
}
