import type { Cache } from '../../store/cache.js';
import { keyOf } from '../../store/key.js';
import { readSealed, writeSealed } from '../../store/sealed.js';
import { WEATHER_MEANING } from './evidence.js';
import { type Fitted, fitMotion, type OnFrames } from './sway.js';

/** Raised whenever the same comparisons, by the same weather, come to other factors. */
const MEANING = 1;

/**
 * As `fitMotion`, which takes as long as reading hundreds of frames, but what an earlier run found by the same frames is taken
 * from the cache.
 */
export async function keptFit(comparisons: readonly OnFrames[], rate: number, cache: Cache): Promise<Fitted> {
  const parts = comparisons.flatMap(({ from }) => from);
  const entry = ['sway', keyOf([MEANING, WEATHER_MEANING, rate, comparisons.length], ...parts)];
  const kept = await readSealed(cache, entry);
  if (kept) return JSON.parse(kept.toString('utf8')) as Fitted;
  const fit = fitMotion(comparisons, rate);
  await writeSealed(cache, entry, Buffer.from(JSON.stringify(fit)));
  return fit;
}
