/** The place of the last of some rising numbers that is not above one; 0 where all are. */
export function lastUpTo(rising: ArrayLike<number>, most: number): number {
  let low = 0;
  let high = rising.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (rising[middle]! <= most) low = middle;
    else high = middle - 1;
  }
  return Math.max(0, low);
}
