/** As in the engine: seconds by which two times may differ and be the same. */
const TOLERANCE = 1e-9;

/**
 * The place of the time nearest to another, the earlier of two equally near.
 * @param times rising, seconds; of none it is 0
 */
export function nearestPlace(times: ArrayLike<number>, time: number): number {
  let low = 0;
  let high = Math.max(0, times.length - 1);
  while (low < high) {
    const middle = (low + high) >> 1;
    if (times[middle]! < time) low = middle + 1;
    else high = middle;
  }
  const before = times[low - 1];
  return before !== undefined && time - before <= times[low]! - time + TOLERANCE ? low - 1 : low;
}
