import type { Camera } from '../../src/camera/description.js';
import type { Settings } from '../../src/camera/settings.js';
import { busyFor } from '../../src/camera/timing.js';
import { DirectReplay } from '../../src/engine/direct.js';

export { texture } from './triggers/measures/looks.js';

/** Which frames fire, and the area each fired with, by direct replay. */
export function replayFrames(
  camera: Camera,
  frames: readonly Uint8Array[],
  times: Float64Array,
  settings: Settings,
): { fired: number[]; areas: number[] } {
  const { width, height, smooth } = camera.analysis;
  const { whileBusy, ...reference } = camera.reference;
  const busy = busyFor(camera, settings.cooldown);
  const replay = new DirectReplay({
    ...{ width, height, smooth, reference, whileBusy, area: camera.area, mask: null, busy },
    ...settings,
  });
  const fired: number[] = [];
  const areas: number[] = [];
  frames.forEach((y, k) => {
    if (!replay.step(y, times[k]!)) return;
    fired.push(k);
    areas.push(replay.lastArea);
  });
  return { fired, areas };
}
