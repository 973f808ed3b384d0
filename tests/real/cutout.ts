import type { Film } from './film.js';

/** Grey levels by which a pixel must differ from the empty scene in some channel to belong to a figure. */
const DIFFERS = 30;
/** Half the size of the window in which a figure is looked for, pixels. */
const REACH = { x: 45, y: 80 };

/** The scene without people: the median of each channel over the frames given. */
export function emptyScene(film: Film, indices: readonly number[]): Uint8Array {
  const frames = indices.map((n) => frameOf(film, n));
  const values = new Uint8Array(frames.length);
  return new Uint8Array(film.width * film.height * 3).map((_, i) => {
    frames.forEach((frame, k) => {
      values[k] = frame[i]!;
    });
    return values.sort()[values.length >> 1]!;
  });
}

/** The figure around a point: of the pixels that differ from the empty scene, the largest 4-connected patch. */
export function figureAt(film: Film, frame: number, scene: Uint8Array, x: number, y: number): number[] {
  const pixels = frameOf(film, frame);
  const waiting = new Set<number>();
  for (let v = Math.round(y) - REACH.y; v <= y + REACH.y; v++) {
    for (let u = Math.round(x) - REACH.x; u <= x + REACH.x; u++) {
      if (u < 0 || v < 0 || u >= film.width || v >= film.height) continue;
      const at = v * film.width + u;
      const differs = [0, 1, 2].some((c) => Math.abs(pixels[3 * at + c]! - scene[3 * at + c]!) >= DIFFERS);
      if (differs) waiting.add(at);
    }
  }
  let largest: number[] = [];
  for (const seed of waiting) {
    waiting.delete(seed);
    const patch = [seed];
    for (const at of patch) {
      for (const next of [at - 1, at + 1, at - film.width, at + film.width]) {
        if (waiting.delete(next)) patch.push(next);
      }
    }
    if (patch.length > largest.length) largest = patch;
  }
  return largest;
}

/**
 * Pastes a figure into `target` (RGB, changed in place), reduced by `scale`, so that the point `from` of its film
 * comes to lie at `to`. Each of the figure's pixels falls into one pixel of the target and covers scale * scale of it.
 */
export function paste(
  target: { pixels: Uint8Array; width: number },
  film: Film,
  frame: number,
  figure: readonly number[],
  scale: number,
  from: readonly [number, number],
  to: readonly [number, number],
): void {
  const pixels = frameOf(film, frame);
  const sums = new Map<number, { count: number; rgb: [number, number, number] }>();
  for (const at of figure) {
    const u = Math.floor(to[0] + ((at % film.width) - from[0]) * scale);
    const v = Math.floor(to[1] + (Math.floor(at / film.width) - from[1]) * scale);
    const sum = sums.get(v * target.width + u) ?? { count: 0, rgb: [0, 0, 0] };
    sums.set(v * target.width + u, sum);
    sum.count++;
    for (const c of [0, 1, 2] as const) sum.rgb[c] += pixels[3 * at + c]!;
  }
  for (const [at, { count, rgb }] of sums) {
    const cover = Math.min(1, count * scale * scale);
    for (const c of [0, 1, 2] as const) {
      const under = target.pixels[3 * at + c]!;
      target.pixels[3 * at + c] = Math.round(under + cover * (rgb[c] / count - under));
    }
  }
}

function frameOf(film: Film, index: number): Uint8Array {
  const frame = film.frames.get(index);
  if (!frame) throw new Error(`frame ${index} was not read`);
  return frame;
}
