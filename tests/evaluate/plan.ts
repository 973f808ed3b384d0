import { defaultCamera } from '../../src/camera/default.js';
import { Cache } from '../../src/store/cache.js';
import { type Film, filmEvidence } from './film.js';
import { siteSpec } from './sites.js';

/**
 * Which sites are drawn. The family `judge` was never looked at while the recommendation was being built; for building,
 * set PERCHMARK_FAMILY to another name.
 */
export const family = process.env.PERCHMARK_FAMILY ?? 'judge';
export const sites = Number(process.env.PERCHMARK_SITES ?? 16);

/** Seconds of a clip to tune on; two of them make a case, and two more judge it. */
export const clipSeconds = 300;
/** Ten times what a case is tuned on: what the long run is taken from. */
export const filmSeconds = 10 * 2 * clipSeconds;

const cache = new Cache();

export function filmOf(site: number): Promise<Film> {
  return filmEvidence(siteSpec(family, site, filmSeconds), defaultCamera, cache);
}

/** Draws every site of one half; the two halves run side by side. */
export async function drawHalf(half: 0 | 1): Promise<void> {
  for (let site = half; site < sites; site += 2) {
    await filmOf(site);
    console.log(`site ${site} of ${sites} is drawn`);
  }
}
