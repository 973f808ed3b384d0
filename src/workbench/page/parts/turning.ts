import { placeAtAngle } from '../../../words/knob.js';

/**
 * Where a key of the slider pattern (W3C ARIA Authoring Practices) leads among so many places: arrows a step, Page keys
 * a larger one, Home and End the ends; null for any other key.
 */
export function placeByKey(key: string, place: number, count: number): number | null {
  const last = count - 1;
  const far = Math.max(2, Math.round(count / 5));
  const by = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1, PageUp: far, PageDown: -far }[key];
  if (key === 'Home') return 0;
  if (key === 'End') return last;
  return by === undefined ? null : Math.min(last, Math.max(0, place + by));
}

/**
 * Where a pointer that drags a knob turns it: towards the pointer, but never over the gap at the bottom from one end to the
 * other.
 * @param x y of the pointer, from the knob's middle, to the right and down
 */
export function placeByPointer(x: number, y: number, place: number | null, count: number): number {
  const towards = placeAtAngle(count, (Math.atan2(x, -y) * 180) / Math.PI);
  if (place === null || count < 3) return towards;
  return Math.abs(towards - place) > (count - 1) / 2 ? place : towards;
}
