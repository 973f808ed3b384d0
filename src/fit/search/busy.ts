import { nearestPlace } from '../../base/nearest.js';
import type { KnownBusy } from '../../engine/pipeline.js';

/**
 * When a camera was busy by the times at which it is known to have fired, each at the frame nearest to it: so that a reference
 * which depends on triggers can be followed before it is known what fires them.
 * @param times of frames, seconds, rising
 * @param fired seconds on the clip's clock, rising
 */
export function busyBy(
  times: Float64Array,
  fired: Float64Array,
  whileBusy: KnownBusy['whileBusy'],
  cooldown: number,
): KnownBusy {
  const triggers = [...new Set(Array.from(fired, (time) => times[nearestPlace(times, time)]!))];
  const stretches = triggers.map((trigger, i): [number, number] => [
    trigger,
    Math.min(trigger + cooldown, triggers[i + 1] ?? Number.POSITIVE_INFINITY),
  ]);
  return { whileBusy, stretches };
}
