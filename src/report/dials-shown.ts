import type { Camera } from '../camera/description.js';
import { positionOf, positions, valueAt } from '../camera/dials.js';
import type { Settings } from '../camera/settings.js';
import type { DialShown } from './data.js';

/** A camera's dials as they stand for some settings. */
export function dialsShown(camera: Camera, settings: Settings): DialShown[] {
  return Object.entries(camera.controls).map(([name, dial]) => {
    const at = positions(dial);
    const position = positionOf(dial, settings[dial.sets]);
    return {
      name,
      sets: dial.sets,
      positions: at,
      values: at.map((p) => valueAt(dial, p)),
      chosen: position === undefined ? null : at.indexOf(position),
    };
  });
}
