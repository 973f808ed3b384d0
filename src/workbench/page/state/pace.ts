/** Where playing is. */
export interface Pace {
  frame: number;
  /** Seconds from the clip's start, between frames. */
  time: number;
}

/**
 * Where playing is after some time: at the last frame that was taken by then, of those that are shown. Where its picture has
 * not come, time stands still.
 * @param passed seconds of the clip
 * @param times of its frames, rising
 * @param stride every how many frames one is shown; the last always is
 */
export function paced(
  { frame, time }: Pace,
  passed: number,
  times: readonly number[],
  stride: number,
  isThere: (frame: number) => boolean,
): Pace {
  const last = times.length - 1;
  const then = time + passed;
  let next = frame;
  while (next < last && times[next + 1]! <= then + 1e-9) next++;
  if (next < last) next = Math.max(frame, next - (next % stride));
  return next === frame || isThere(next) ? { frame: next, time: then } : { frame, time };
}
