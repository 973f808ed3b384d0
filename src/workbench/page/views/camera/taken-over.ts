import type { Camera } from '../../../../camera/description.js';
import { holding } from '../../../../camera/holding.js';
import { busySeconds } from '../../../../engine/triggers.js';
import type { CameraFound } from '../../../fit-protocol.js';
import { fitted } from './fitted.js';

/**
 * What is taken over of a camera that was found: the owner's name stays, and so do dials that nobody held against it, with what
 * was found among their positions, and the shutter lag, of which nothing is found, unless its photos would then take longer than
 * the time after which it fired again.
 * @param described the owner's own description; null: there is none
 */
export function takenOver(
  { known, result: { camera, settings } }: CameraFound,
  described: Camera | null,
): Partial<Camera> {
  if (!described) return camera;
  const { name: _, controls, shutterLag, ...rest } = camera;
  if (known) return { ...rest, controls, shutterLag };
  const { width, height } = rest.analysis;
  const dials = holding(fitted(described.controls, width * height), settings).controls;
  const { photos, interval } = rest.burst;
  const fits = busySeconds(0, described.shutterLag, photos, interval) <= settings.cooldown;
  return { ...rest, controls: dials, ...(!fits && { shutterLag }) };
}
