import type { Camera } from '../camera/description.js';
import { keepsEvidence } from '../camera/keeps-evidence.js';
import { busyFor } from '../camera/timing.js';
import { levelOf } from '../engine/triggers.js';
import { dialsOf, Grid, thinned } from './grid.js';
import type { SweepCamera } from './groups.js';

/** A camera whose reference depends on the triggers is replayed setting by setting: no more than this many. */
const MOST_DIRECT = 48;

/** The settings to try: all that the dials give, or a thinned choice of them where each must be replayed by itself. */
export function gridFor(camera: Camera): Grid {
  const dials = dialsOf(camera);
  return new Grid(camera, keepsEvidence(camera) ? dials : thinned(dials, MOST_DIRECT));
}

/** Whether the grid of a camera holds all that its dials give. */
export function triesAll(camera: Camera): boolean {
  return keepsEvidence(camera) || new Grid(camera).size <= gridFor(camera).size;
}

/** The lowest level that any setting of a grid asks for. */
export function lowestLevel(grid: Grid): number {
  const dial = grid.dials[grid.dialSetting('threshold')];
  return (dial?.values ?? []).reduce((lowest, threshold) => Math.min(lowest, levelOf(threshold)), 255);
}

/** What the sweep asks of a camera. */
export function sweepCamera(camera: Camera): SweepCamera {
  return {
    area: camera.area,
    framePixels: camera.analysis.width * camera.analysis.height,
    busyOf: (cooldown) => busyFor(camera, cooldown),
    levelOf,
  };
}
