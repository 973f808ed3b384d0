import { between, type Random, spread } from '../base/random.js';

/** Something knocks the camera or its mount, which then swings out. Times in seconds, lengths in pixels. */
export interface Shake {
  start: number;
  /** When it moves by less than a twentieth of a pixel. */
  end: number;
  /** The first swing. */
  x: number;
  y: number;
  hertz: number;
  /** Share of the swing that is left after a second. */
  keep: number;
}

/** Below this many pixels nothing can be seen to move. */
const still = 0.05;

/** Knocks of a mount. How far and how fast a small camera swings is an assumption of ours. */
export function shakes(perHour: number, seconds: number, width: number, r: Random): Shake[] {
  return spread(r, perHour, seconds).map((start) => {
    const far = (2 ** between(r, -0.6, 2.8) * width) / 320;
    const turn = between(r, -0.5, 0.5) + (r() < 0.25 ? Math.PI / 2 : 0);
    const hertz = between(r, 0.5, 4.5);
    const keep = between(r, 0.05, 0.6);
    const lasts = Math.log(still / far) / Math.log(keep);
    return {
      start,
      end: Math.min(seconds, start + lasts),
      x: far * Math.cos(turn),
      y: far * Math.sin(turn),
      hertz,
      keep,
    };
  });
}

/** How far the whole picture is off at second t, pixels. */
export function shakenBy(list: readonly Shake[], t: number): { x: number; y: number } {
  const off = { x: 0, y: 0 };
  for (const s of list) {
    if (t < s.start || t > s.end) continue;
    const swing = s.keep ** (t - s.start) * Math.sin(2 * Math.PI * s.hertz * (t - s.start) + 0.6);
    off.x += s.x * swing;
    off.y += s.y * swing;
  }
  return off;
}

/** The picture moved by so many pixels, its edge repeated; interleaved RGB, bilinear. */
export function moved(
  rgb: Float32Array,
  width: number,
  height: number,
  off: { x: number; y: number },
  out: Float32Array,
): Float32Array {
  for (let y = 0; y < height; y++) {
    const fromY = Math.min(height - 1, Math.max(0, y - off.y));
    const top = Math.min(height - 2, Math.floor(fromY));
    const down = fromY - top;
    for (let x = 0; x < width; x++) {
      const fromX = Math.min(width - 1, Math.max(0, x - off.x));
      const left = Math.min(width - 2, Math.floor(fromX));
      const right = fromX - left;
      const at = (top * width + left) * 3;
      const to = (y * width + x) * 3;
      for (let c = 0; c < 3; c++) {
        const i = at + c;
        const above = rgb[i]! * (1 - right) + rgb[i + 3]! * right;
        const below = rgb[i + 3 * width]! * (1 - right) + rgb[i + 3 * width + 3]! * right;
        out[to + c] = above * (1 - down) + below * down;
      }
    }
  }
  return out;
}
