import { defaultCamera } from '../../src/camera/default.js';
import { levelOf } from '../../src/engine/triggers.js';
import { busyFor } from '../../src/replay/replay.js';
import type { Grid } from '../../src/tune/grid.js';
import { type SweepCounts, sweepClip } from '../../src/tune/sweep.js';
import type { Film } from './film.js';
import { clipSeconds, filmSeconds } from './plan.js';
import { windowOf } from './window.js';

/** Every clip that a film is cut into, replayed under every setting. */
export async function sweepWindows(film: Film, grid: Grid): Promise<SweepCounts[]> {
  const { analysis, area } = defaultCamera;
  const camera = {
    area,
    framePixels: analysis.width * analysis.height,
    busyOf: (cooldown: number) => busyFor(defaultCamera, cooldown),
    levelOf,
  };
  const kept = remembering(film);
  const swept: SweepCounts[] = [];
  for (let start = 0; start < filmSeconds; start += clipSeconds) {
    swept.push(await sweepClip(windowOf(kept, start, start + clipSeconds, defaultCamera), grid, camera));
  }
  return swept;
}

/** A film that reads each column once, for it is asked by every window. */
function remembering(film: Film): Film {
  const known = new Map<string, Promise<Map<number, Uint32Array>>>();
  return {
    ...film,
    columns(levels, kind) {
      const name = `${kind} ${levels.join()}`;
      const columns = known.get(name) ?? film.columns(levels, kind);
      known.set(name, columns);
      return columns;
    },
  };
}
