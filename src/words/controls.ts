import type { Camera } from '../camera/description.js';
import { positionOf } from '../camera/dials.js';
import type { Settings } from '../camera/settings.js';

/** The positions of a camera's dials that give these engine values, as far as there are any. */
export function controlsOf(settings: Settings, camera: Camera): Record<string, number> {
  return Object.fromEntries(
    Object.entries(camera.controls).flatMap(([name, dial]) => {
      const position = positionOf(dial, settings[dial.sets]);
      return position === undefined ? [] : [[name, position]];
    }),
  );
}
