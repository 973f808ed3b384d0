import type { Grid } from '../sweep/grid.js';

/** A setting one notch away on one dial. */
export interface Notch {
  dial: string;
  /** The dial's position there, in the camera's own units. */
  position: number;
  setting: number;
}

/** Every setting one notch away from a setting, dial by dial, lower position first. */
export function notchesAround(grid: Grid, setting: number): Notch[] {
  return grid.dials.flatMap((dial, d) =>
    [-1, 1].flatMap((step) => {
      const turned = grid.turned(setting, d, step);
      if (turned === null) return [];
      return [{ dial: dial.name, position: dial.positions[grid.placeOf(turned, d)]!, setting: turned }];
    }),
  );
}
