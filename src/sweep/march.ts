import { TIME_TOLERANCE } from '../engine/triggers.js';

/** Runs of active frames: run r holds frames start[r] .. end[r], both included; runs do not touch. */
export interface Runs {
  count: number;
  start: Uint32Array;
  end: Uint32Array;
}

/** Room for the runs of a clip of so many frames. */
export function roomForRuns(frames: number): Runs {
  const most = (frames >> 1) + 1;
  return { count: 0, start: new Uint32Array(most), end: new Uint32Array(most) };
}

/** Finds the runs of frames whose area reaches `minimum` while no more than `maximum` pixels changed (null: any number). */
export function findRuns(
  area: Uint32Array,
  changed: Uint32Array | null,
  minimum: number,
  maximum: number,
  into: Runs,
): Runs {
  let count = 0;
  let inside = false;
  for (let k = 0; k < area.length; k++) {
    const active = area[k]! >= minimum && (changed === null || changed[k]! <= maximum);
    if (active === inside) continue;
    if (active) into.start[count] = k;
    else into.end[count++] = k - 1;
    inside = active;
  }
  if (inside) into.end[count++] = area.length - 1;
  into.count = count;
  return into;
}

/**
 * Walks the trigger machine over runs of active frames, visiting triggers only, never the frames between them.
 * Gives each trigger's frame to `fired`. `busy` in seconds.
 */
export function march(
  runs: Runs,
  times: Float64Array,
  persistence: number,
  busy: number,
  fired: (frame: number) => void,
): void {
  let idleFrom = 0;
  for (let r = 0; r < runs.count; r++) {
    const end = runs.end[r]!;
    for (;;) {
      const frame = Math.max(runs.start[r]!, idleFrom) + persistence - 1;
      if (frame > end) break;
      fired(frame);
      idleFrom = firstAt(times, times[frame]! + busy - TIME_TOLERANCE, frame + 1);
    }
  }
}

/** The first place from `low` on whose time is not before `time`; times rise. Doubling steps, then halving. */
export function firstAt(times: Float64Array, time: number, low: number): number {
  let step = 1;
  let from = low;
  let to = low;
  while (to < times.length && times[to]! < time) {
    from = to + 1;
    to += step;
    step *= 2;
  }
  to = Math.min(to, times.length);
  while (from < to) {
    const middle = (from + to) >> 1;
    if (times[middle]! < time) from = middle + 1;
    else to = middle;
  }
  return from;
}
