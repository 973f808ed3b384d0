import { TIME_TOLERANCE } from '../../engine/triggers.js';
import { firstAt, type Runs } from '../../sweep/march.js';
import type { Wanted } from '../fired/wanted.js';
import { worthOf } from './agreement.js';

/**
 * Closeness of what is fired when the fired times lead it: after one that was missed the camera is busy as if it had fired, and one
 * too many keeps it busy no longer than until the next may come. So one wrong trigger is one wrong trigger, where a camera that
 * something keeps firing would by itself be out of step from there on: what nearly explains the times comes near, and a search can
 * climb. What explains them all comes to 1 either way.
 * @param runs of frames that are active
 * @param times of frames, seconds, rising
 */
export function guidedCloseness(
  runs: Runs,
  times: Float64Array,
  persistence: number,
  cooldown: number,
  { fired, tolerance, from, to }: Wanted,
): number {
  const { most } = tolerance;
  let worth = 0;
  let predicted = 0;
  let i = 0;
  let run = 0;
  let idleFrom = firstAt(times, from, 0);
  for (;;) {
    let frame = -1;
    for (; run < runs.count; run++) {
      const at = Math.max(runs.start[run]!, idleFrom) + persistence - 1;
      if (at > runs.end[run]!) continue;
      frame = at;
      break;
    }
    const time = frame >= 0 && times[frame]! < to ? times[frame]! : Number.POSITIVE_INFINITY;
    if (i < fired.length && time > fired[i]! + most) {
      idleFrom = firstAt(times, fired[i]! + cooldown - TIME_TOLERANCE, idleFrom);
      i++;
      continue;
    }
    if (time === Number.POSITIVE_INFINITY) break;
    predicted++;
    let idle = time + cooldown;
    if (i < fired.length && time >= fired[i]! - most) {
      worth += worthOf(Math.abs(time - fired[i]!), tolerance);
      i++;
    } else if (i < fired.length) idle = Math.min(idle, fired[i]! - most);
    idleFrom = firstAt(times, idle - TIME_TOLERANCE, frame + 1);
  }
  const all = fired.length + predicted;
  return all === 0 ? 0 : (2 * worth) / all;
}
