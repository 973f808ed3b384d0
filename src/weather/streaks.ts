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
  eachPixel(width, height, s, (at, share) => mixLight(picture, at, s.light, share));
}

/** Every pixel that a streak covers, with the share of drop light in it. */
export function eachPixel(
  width: number,
  height: number,
  s: Streak,
  see: (at: number, share: number) => void,
): void {
  const half = s.wide / 2 + s.soft;
  const bottom = s.y + s.long;
  const last = Math.min(height - 1, Math.floor(bottom + s.soft));
  const left = Math.max(0, Math.floor(s.x - half));
  const right = Math.min(width - 1, Math.floor(s.x + half));
  for (let py = Math.max(0, Math.floor(s.y - s.soft)); py <= last; py++) {
    const inRow = along(py, s.y, bottom, s.soft);
    if (inRow <= 0) continue;
    for (let px = left; px <= right; px++) {
      const q = s.share * inRow * along(px, s.x - s.wide / 2, s.x + s.wide / 2, s.soft);
      if (q > 0) see(py * width + px, q);
    }
  }
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
