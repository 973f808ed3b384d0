import { defaultCamera } from '../../src/camera/default.js';
import type { Camera } from '../../src/camera/description.js';
import { Cache } from '../../src/store/cache.js';
import { type Film, filmEvidence, gardenDrawing } from './film.js';
import { seriesFilm } from './series.js';
import { siteSpec } from './sites.js';
import { textureCamera, textureDrawing } from './textures.js';

/**
 * Which sites there are. Families named `judge...` were never looked at while the recommendation was being built; for
 * building, set PERCHMARK_FAMILY to another name.
 */
export const family = process.env.PERCHMARK_FAMILY ?? 'judge';

/** Seconds of a film: 110 minutes hold ten minutes to tune on and ten times as much to judge by. */
const filmSeconds = 60 * Number(process.env.PERCHMARK_MINUTES ?? 110);

/** A way of making footage that shares neither code nor constants with the others. */
export interface Kind {
  name: 'gardens' | 'textures' | 'series';
  camera: Camera;
  sites: number;
  filmOf(site: number): Promise<Film>;
}

const cache = new Cache();
const sitesOf = (name: string, usual: number) =>
  Number(process.env[`PERCHMARK_${name.toUpperCase()}`] ?? usual);

export const kinds: Kind[] = [
  {
    name: 'gardens',
    camera: defaultCamera,
    sites: sitesOf('gardens', 16),
    filmOf: (site) => {
      const spec = siteSpec(family, site, filmSeconds);
      return filmEvidence(spec, gardenDrawing(spec), defaultCamera, cache);
    },
  },
  {
    name: 'textures',
    camera: textureCamera,
    sites: sitesOf('textures', 16),
    filmOf: (site) => {
      const seed = `${family}-${site}`;
      const drawing = textureDrawing(seed, filmSeconds, 240);
      return filmEvidence(['textures', seed, filmSeconds], drawing, textureCamera, cache);
    },
  },
  {
    name: 'series',
    camera: defaultCamera,
    sites: sitesOf('series', 100),
    filmOf: async (site) =>
      seriesFilm({
        seed: `${family}-${site}`,
        seconds: 6600,
        rate: 5,
        weather: 150,
        visitsPerHour: 200,
        framePixels: 76_800,
      }),
  },
];

/** Draws every site of one half; the two halves run side by side. */
export async function drawHalf(half: 0 | 1): Promise<void> {
  for (const { name, sites, filmOf } of kinds.filter((kind) => kind.name !== 'series')) {
    for (let site = half; site < sites; site += 2) {
      await filmOf(site);
      console.log(`${name}: site ${site} of ${sites} is drawn`);
    }
  }
}
