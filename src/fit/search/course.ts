import type { Clip } from '../../clip/open.js';
import { sampleFrames } from '../../engine/sample.js';
import type { ReadingOptions } from '../../measure/evidence.js';
import type { Told } from '../fired/told.js';
import type { Tolerance } from '../score/agreement.js';
import { NEARLY_ALL } from './carried.js';
import { HeldFrames } from './held-frames.js';
import { firstSize, sizesFor } from './look.js';
import { Looking } from './looking.js';
import { type Reached, Reckoning } from './reckoning.js';
import { type Known, Searching } from './searching.js';
import type { Searched } from './tried.js';

export interface CourseOptions extends Pick<ReadingOptions, 'cache' | 'signal'> {
  onProgress: Reached;
}

/** How fast the clip's frames come where none is missing, rounded as far as every one of them is seen. */
export function rateOf(clip: Pick<Clip, 'times' | 'rate'>): number {
  const gaps = Array.from(clip.times.subarray(1), (time, i) => time - clip.times[i]!).sort((a, b) => a - b);
  const usual = gaps.length === 0 ? clip.rate : Math.max(clip.rate, 1 / gaps[gaps.length >> 1]!);
  const digits = 10 ** (2 - Math.floor(Math.log10(usual)));
  const rounded = Math.ceil(usual * digits * (1 - 1e-4)) / digits;
  return isAll(clip, rounded) ? rounded : Math.ceil(clip.rate * 1e6) / 1e6;
}

/** Whether a camera that looks so often sees each frame. */
function isAll({ times, rate: clipRate }: Pick<Clip, 'times' | 'rate'>, rate: number): boolean {
  const seconds = times.length / clipRate;
  return sampleFrames(times, seconds, clipRate, rate).length === times.length;
}

/**
 * Looks for the descriptions that explain when a camera fired, from few that lie far apart to many around the best: the offset
 * and the reference at a small size, then sizes and smoothing, then what lies between.
 * @param clip of some length
 */
export async function search(
  clip: Clip,
  told: Told,
  known: Known,
  tolerance: Tolerance,
  { cache, signal, onProgress }: CourseOptions,
): Promise<Searched> {
  let best: Searching | null = null;
  // All rates see some of the same frames.
  const sizes = sizesFor(clip, known.size);
  const held = new HeldFrames(clip, sizes, signal);
  const reckoning = new Reckoning(clip.times.length, firstSize(sizes), sizes, onProgress);
  const begun = async (looking: Looking, as: Known) => {
    const searching: Searching = new Searching(clip, told, as, tolerance, looking, reckoning);
    reckoning.begin('offset');
    await searching.begin();
    reckoning.begin('while busy');
    await searching.whileBusy();
    return searching;
  };
  for (const rate of ratesFor(clip, known)) {
    const looking = new Looking(clip, rate, { cache, reckoning, ...(signal && { signal }) }, held);
    let searching = await begun(looking, known);
    if (searching.most < GOOD && known.cooldowns.length > 0) {
      // It may be another camera's dial: then none of its positions explains the times.
      const free = await begun(looking, { ...known, cooldowns: [] });
      if (free.most > searching.most + CLEARLY) searching = free;
    }
    if (!best || searching.most > best.most + CLEARLY) best = searching;
    if (best.most >= GOOD) break;
  }
  const searched = best as Searching;
  // What lies between may be better at another size, so that a search which is not there yet goes round once more.
  for (let round = 0; round === 0 || (round < MOST_ROUNDS && searched.most < NEARLY_ALL); round++) {
    reckoning.begin('sizes');
    if (round > 0) await searched.widely();
    await searched.sizes();
    reckoning.begin('between');
    await searched.between();
  }
  reckoning.begin('every size');
  await searched.everySize();
  return searched.result();
}

/** Rounds of a search that is not there yet. */
const MOST_ROUNDS = 2;
/** Closeness from which no other rate is tried, and by how much another must be better. */
const GOOD = 0.9;
const CLEARLY = 0.05;

/** Frames a second that a camera may look at: all first, then what small boards manage of them. */
function ratesFor(clip: Clip, known: Known): number[] {
  if (known.rate !== null) return [known.rate];
  const all = rateOf(clip);
  const fewer = [all / 2, all / 3, 5, 2].filter((rate) => rate >= 1 && rate < 0.9 * all);
  return [all, ...new Set(fewer)];
}
