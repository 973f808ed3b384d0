import { defaultCamera } from '../../../src/camera/default.js';
import { type Camera, cameraSchema } from '../../../src/camera/description.js';
import { dialsOf, Grid } from '../../../src/sweep/grid.js';
import type { Yard } from '../yards/yard.js';

/** The default camera on pictures half as wide and high, its areas a quarter: as sharp, and four times as quick to judge. */
const half = cameraSchema.parse({
  ...defaultCamera,
  name: 'camera of the yards',
  analysis: { ...defaultCamera.analysis, width: 160, height: 120 },
  controls: {
    ...defaultCamera.controls,
    minimumArea: { sets: 'minimumArea', choices: [6, 12, 25, 50, 100, 200] },
    mostChanged: { sets: 'mostChanged', choices: [1250, 5000, 19_200] },
  },
});

/** What the owner of a yard knows of the camera: its lens. */
export function cameraOf({ view }: Yard): Camera {
  return { ...half, lens: { hfov: view.hfov } };
}

export const grid = new Grid(half, dialsOf(half));

/** The settings by which firing is compared: every threshold and area, the other dials at their quickest. */
export const quickest: readonly number[] = Array.from({ length: grid.size }, (_, s) => s).filter((s) => {
  const { persistence, cooldown, mostChanged } = grid.settingsAt(s);
  return persistence === 1 && cooldown === 2 && mostChanged >= half.analysis.width * half.analysis.height;
});
