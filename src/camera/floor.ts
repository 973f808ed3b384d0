import { levelOf } from '../engine/triggers.js';
import type { Camera } from './description.js';
import { positions, valueAt } from './dials.js';

/**
 * The lowest level worth keeping evidence for: the lowest that the camera's dials reach, so that every setting of the
 * camera shares one reading; all levels where `needed` lies below that. Levels under the floor, mostly sensor noise,
 * are where most pixels are, and cost the most.
 */
export function floorFor(camera: Camera, needed: number): number {
  const dial = Object.values(camera.controls).find((d) => d.sets === 'threshold');
  if (!dial) return 1;
  const levels = positions(dial).map((position) => levelOf(valueAt(dial, position)));
  const lowest = levels.reduce((least, level) => Math.min(least, level));
  return needed < lowest ? 1 : lowest;
}
