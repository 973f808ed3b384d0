import { busySeconds, photoTimes } from '../engine/triggers.js';
import type { Camera } from './description.js';

/** Seconds after a trigger in which the camera can't fire. */
export function busyFor(camera: Camera, cooldown: number): number {
  return busySeconds(cooldown, camera.shutterLag, camera.burst.photos, camera.burst.interval);
}

/** When the photos of a trigger are taken, seconds. */
export function photosFor(camera: Camera, time: number): number[] {
  return photoTimes(time, camera.shutterLag, camera.burst.photos, camera.burst.interval);
}
