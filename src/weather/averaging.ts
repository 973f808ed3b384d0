/** Pixels. */
export interface Size {
  width: number;
  height: number;
}

/**
 * What is left of the variance of independent pixels where a picture is reduced by area average with exact overlaps, in
 * the middle of its pixels: one over the number of pixels averaged, or somewhat less where edges cut them. 1 where it is
 * not reduced.
 */
export function varianceLeft(from: Size, to: Size): number {
  return leftAlong(from.width, to.width) * leftAlong(from.height, to.height);
}

/** Mean over the cells of one axis of the sum of their squared weights. */
function leftAlong(from: number, to: number): number {
  const span = from / to;
  let sum = 0;
  for (let cell = 0; cell < to; cell++) {
    const [start, end] = [cell * span, (cell + 1) * span];
    for (let i = Math.floor(start); i < end; i++) {
      const overlap = Math.min(end, i + 1) - Math.max(start, i);
      if (overlap > 0) sum += (overlap / span) ** 2;
    }
  }
  return sum / to;
}
