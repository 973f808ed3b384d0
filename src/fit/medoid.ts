/** Frames at which something would fire if it were idle, 1 or 0 each. */
export type Ready = Uint8Array;

/**
 * Frames that are the last of so many in a row in which enough changed: what a description would do at times at which nobody saw
 * what the camera does, for it was busy.
 * @param area by frame
 */
export function readyAt(
  area: Uint32Array,
  { area: least, persistence }: { area: number; persistence: number },
): Ready {
  const ready = new Uint8Array(area.length);
  let run = 0;
  for (let k = 0; k < area.length; k++) {
    run = area[k]! >= least ? run + 1 : 0;
    if (run >= persistence) ready[k] = 1;
  }
  return ready;
}

/**
 * Of several that explain the same times the one that agrees best with all others about every frame (a medoid; agreement is the
 * share of the frames ready by either that are ready by both, Jaccard 1901): the middle of what they predict, where their values
 * have none.
 * @returns its place; the first of equals
 */
export function medoidOf(all: readonly Ready[]): number {
  const sums = all.map((one) => all.reduce((sum, other) => sum + alike(one, other), 0));
  return sums.reduce((best, sum, i) => (sum > sums[best]! + 1e-9 ? i : best), 0);
}

function alike(a: Ready, b: Ready): number {
  let both = 0;
  let either = 0;
  for (let k = 0; k < a.length; k++) {
    both += a[k]! & b[k]!;
    either += a[k]! | b[k]!;
  }
  return either === 0 ? 1 : both / either;
}
