import type { Camera } from '../../src/camera/description.js';
import { BLOCKS } from '../../src/jobs/tune/sweep-clip.js';
import type { AreaKind, Columns } from '../../src/sweep/columns.js';
import { sweepCamera } from '../../src/sweep/for-camera.js';
import type { Grid } from '../../src/sweep/grid.js';
import { sweepClip } from '../../src/sweep/sweep.js';
import { apart, blockOf, cutBlocks } from '../../src/tune/blocks.js';
import type { Swept } from '../../src/tune/site-result.js';
import type { Film } from './film.js';
import { windowOf } from './window.js';

/** Clips of so many seconds that a film is cut into, one after the other, each swept as a recording of its own. */
export async function sweepWindows(
  film: Film,
  seconds: number,
  grid: Grid,
  camera: Camera,
): Promise<Swept[]> {
  const swept: Swept[] = [];
  for (let start = 0; start + seconds <= film.seconds + 1e-9; start += seconds) {
    const clip = windowOf(film, start, start + seconds, camera);
    const parts = cutBlocks(clip.truth, BLOCKS, apart(camera)).map((block) => blockOf(clip, block));
    const [whole, ...blocks] = await sweepClip(clip, grid, sweepCamera(camera), parts);
    swept.push({ whole, blocks });
  }
  return swept;
}

/** A film that reads each column once, for every window asks for it again. */
export function remembering(film: Film): Film {
  const known = new Map<string, Promise<Record<AreaKind, Columns>>>();
  const bothColumns = (levels: readonly number[]) => {
    const name = levels.join();
    const columns = known.get(name) ?? film.bothColumns(levels);
    known.set(name, columns);
    return columns;
  };
  return { ...film, bothColumns, columns: async (levels, kind) => (await bothColumns(levels))[kind] };
}
