import type { Camera } from '../../src/camera/description.js';
import type { Grid } from '../../src/sweep/grid.js';
import { type Pool, poolOf } from '../../src/tune/pool.js';
import type { Swept } from '../../src/tune/site-result.js';
import type { Film } from './film.js';
import { sweepWindows } from './windows.js';

/** What is tuned on, and what judges it. */
export interface Case {
  /** Two clips, one after the other. */
  tuned: Swept[];
  /** As much footage again, right after. */
  next: Pool;
  /** Ten times as much as was tuned on, or whatever else the film holds. */
  longRun: Pool;
}

/** How many times what was tuned on the long run is. */
const LONG = 10;

/** Every case of a film whose two clips are so many seconds long each. */
export async function casesOf(film: Film, clipSeconds: number, grid: Grid, camera: Camera): Promise<Case[]> {
  const windows = await sweepWindows(film, clipSeconds, grid, camera);
  const pairs = Math.floor(windows.length / 2);
  const pair = (i: number) => windows.slice(2 * (i % pairs), 2 * (i % pairs) + 2);
  const pooled = (from: number, to: number) => {
    const of = Array.from({ length: to - from }, (_, j) => pair(from + j)).flat();
    return poolOf(of.map(({ whole }) => whole));
  };
  return Array.from({ length: pairs }, (_, i) => ({
    tuned: pair(i),
    next: pooled(i + 1, i + 2),
    longRun: pooled(i + 1, i + 1 + Math.min(LONG, pairs - 1)),
  }));
}
