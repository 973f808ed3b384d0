import type { Camera } from '../camera/description.js';
import { type EngineValue, engineValues, positionOf } from '../camera/dials.js';
import type { Settings } from '../camera/settings.js';

/** Values that cannot be set on the camera; those that stand where a camera without a dial for them stands are none. */
export function offDials(camera: Camera, settings: Settings): EngineValue[] {
  const { width, height } = camera.analysis;
  const usual: Partial<Settings> = { mostChanged: width * height, persistence: 1 };
  return engineValues.filter((value) => {
    const dial = Object.values(camera.controls).find(({ sets }) => sets === value);
    return dial ? positionOf(dial, settings[value]) === undefined : settings[value] !== usual[value];
  });
}
