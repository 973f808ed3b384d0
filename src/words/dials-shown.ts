import type { Camera } from '../camera/description.js';
import { type EngineValue, positionOf, positions, valueAt } from '../camera/dials.js';
import type { Settings } from '../camera/settings.js';

/** A dial as it stands. */
export interface DialShown {
  name: string;
  sets: EngineValue;
  /** In the camera's own units, from its first end to its last. */
  positions: readonly number[];
  /** What each position gives, as an engine value. */
  values: readonly number[];
  /** The place of the chosen position; null where none gives the value that was replayed. */
  chosen: number | null;
}

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
