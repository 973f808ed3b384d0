import type { LabelledClip } from '../../clip/labelled.js';
import type { Hour } from '../../plan/hours.js';
import { type Darkness, DIM_UNTIL } from '../../plan/kind.js';
import { DARK_BELOW } from '../../weather/conditions.js';
import type { OpenPorts } from '../ports.js';
import { type ClipLimit, lightLimitOf } from '../tune/limit.js';
import type { SiteOptions } from './options.js';

/** Down to which light the camera is of use, looked for only where an hour is that dark. */
export async function darknessAt(
  hours: readonly Hour[],
  source: LabelledClip | undefined,
  { camera, grid, goal, seed }: SiteOptions,
  ports: OpenPorts,
): Promise<{ darkness: Darkness; limit: ClipLimit | null }> {
  const isDark = hours.some(({ lux }) => lux !== null && lux < DARK_BELOW);
  if (!isDark || !source) return { darkness: { limit: null, known: DIM_UNTIL }, limit: null };
  ports.onPhase(`${source.dir}: looking for the light below which nothing is caught`);
  // Every night of the plan hangs on it, so all of a short clip is taken where a sample holds too few visits.
  const limit = await lightLimitOf(source, camera, grid, goal, seed, ports, 'all of a short clip');
  return { darkness: darknessOf(limit), limit };
}

/** Below the limit it is too dark; where there is none, nothing is known below the darkest light that was tried. */
export function darknessOf({ tells, lux, levels }: Pick<ClipLimit, 'tells' | 'lux' | 'levels'>): Darkness {
  switch (tells) {
    case 'a limit': {
      const limit = lux.value ?? levels[0]!.lux;
      return { limit, known: limit };
    }
    case 'no limit':
      return { limit: null, known: lux.value ?? DIM_UNTIL };
    case 'too little':
      return { limit: null, known: DIM_UNTIL };
  }
}
