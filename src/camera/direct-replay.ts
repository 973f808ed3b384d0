import { DirectReplay } from '../engine/direct.js';
import type { Camera } from './description.js';
import type { Settings } from './settings.js';
import { busyFor } from './timing.js';

/** One camera under one group of settings, to be given the frames of a clip one by one. */
export function directReplay(camera: Camera, settings: Settings, mask: Uint8Array | null): DirectReplay {
  const { width, height, smooth } = camera.analysis;
  const { whileBusy, ...reference } = camera.reference;
  const { threshold, minimumArea, mostChanged, persistence, cooldown } = settings;
  return new DirectReplay({
    width,
    height,
    smooth,
    reference,
    whileBusy,
    area: camera.area,
    mask,
    threshold,
    minimumArea,
    mostChanged,
    persistence,
    busy: busyFor(camera, cooldown),
  });
}
