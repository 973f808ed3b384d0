import { LIGHT_STEPS, lightOfSignal, linearOf, SIGNAL_STEPS, signalOfLight } from './gamma.js';

/**
 * Signal of what a drop shows: nearly the whole sky, bent (Garg & Nayar 2007). The sky seldom stands in the picture, so its
 * brightness is assumed: not quite white.
 */
export const SKY = 230;
const SKY_LIGHT = linearOf(SKY / 255);

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

/** A nearly upright stroke of drop light; pixels from the top left. */
export interface Streak {
  /** Middle of the upper end. */
  x: number;
  y: number;
  long: number;
  wide: number;
  /** Pixels to the side for each pixel down. */
  slant: number;
  /** Share of drop light, 0 to 1; spread over `soft` pixels at either edge. */
  share: number;
  soft: number;
}

/** Draws a streak into a picture of signal values; pixels that it covers in part change in part. */
export function drawStreak(picture: Float32Array, width: number, height: number, s: Streak): void {
  const half = s.wide / 2 + s.soft;
  const bottom = s.y + s.long;
  const last = Math.min(height - 1, Math.floor(bottom + s.soft));
  for (let py = Math.max(0, Math.floor(s.y - s.soft)); py <= last; py++) {
    const inRow = along(py, s.y, bottom, s.soft);
    if (inRow <= 0) continue;
    const middle = s.x + (py + 0.5 - s.y) * s.slant;
    const right = Math.min(width - 1, Math.floor(middle + half));
    for (let px = Math.max(0, Math.floor(middle - half)); px <= right; px++) {
      const q = s.share * inRow * along(px, middle - s.wide / 2, middle + s.wide / 2, s.soft);
      if (q > 0) mixSky(picture, py * width + px, q);
    }
  }
}

/** Mixes a share of drop light into a pixel; light adds up before the gamma curve. */
export function mixSky(picture: Float32Array, at: number, share: number): void {
  const step = Math.min(255, Math.max(0, picture[at]!)) * SIGNAL_STEPS + 0.5;
  const light = lightOfSignal[step | 0]!;
  picture[at] = signalOfLight[((light + (SKY_LIGHT - light) * share) * LIGHT_STEPS + 0.5) | 0]!;
}

/** Share of a pixel from p to p + 1, or of the blur about its middle where that is wider, that lies between two edges. */
function along(p: number, from: number, to: number, soft: number): number {
  const half = Math.max(0.5, soft);
  const middle = p + 0.5;
  return Math.max(0, Math.min(middle + half, to) - Math.max(middle - half, from)) / (2 * half);
}
