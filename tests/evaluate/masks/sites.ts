import { fileURLToPath } from 'node:url';
import { readScene } from '../../../src/scene/film.js';
import { type SceneSpec, sceneSpec, siteNames } from '../../../src/scene/spec.js';

/** Scenes of one garden: what is tuned on, and what only the outcome is judged on. */
export interface Site {
  name: string;
  tune: SceneSpec[];
  judge: SceneSpec[];
}

/** The family that was judged last, and is used up by that; PERCHMARK_FAMILY names another. */
const family = process.env.PERCHMARK_FAMILY ?? 'masks-held-out-2';
const HELD_OUT = 6;
/** Gardens come by turns: the compost heap first. */
const gardens = [siteNames[2], siteNames[0], siteNames[1]] as const;
/** Lux, by turns. */
const lights = [9000, 30_000, 18_000] as const;

/** The demo's sites of two clips, and those held out. */
export async function sitesToTry(): Promise<Site[]> {
  return [
    await demoSite('compost heap', ['compost-heap-clouds', 'compost-heap-windy']),
    await demoSite('log pile', ['log-pile-calm', 'log-pile-dusk']),
    ...Array.from({ length: HELD_OUT }, (_, i) => heldOut(i)),
  ];
}

/** Judged on the same gardens in the same weather with other gusts, noise and visitors. */
async function demoSite(name: string, scenes: readonly string[]): Promise<Site> {
  const clips = new URL('../../../clips/', import.meta.url);
  const tune = await Promise.all(
    scenes.map((scene) => readScene(fileURLToPath(new URL(`${scene}.json`, clips)))),
  );
  const judge = tune.flatMap((spec, i) =>
    ['a', 'b'].map((again) =>
      sceneSpec.parse({
        ...spec,
        title: `${spec.title}, unseen ${again}`,
        seed: `${scenes[i]} unseen ${again}`,
        seeds: { place: spec.seed },
      }),
    ),
  );
  return { name, tune, judge };
}

/** A garden in wind of Beaufort 3 and 5, the second clip of either kind being the windy one. */
function heldOut(i: number): Site {
  const spec = (use: 'tune' | 'judge', n: number) =>
    sceneSpec.parse({
      version: 1,
      title: `Held out ${i} ${use}-${n}`,
      site: gardens[i % gardens.length],
      seed: `${family} ${i} ${use}-${n}`,
      seeds: { place: `${family} ${i}` },
      seconds: 330,
      rate: 5,
      width: 320,
      height: 240,
      start: '2026-05-04T09:00:00+01:00',
      place: { latitude: 51, longitude: -3 },
      conditions: { wind: n === 2 ? 5 : 3, rain: 0, light: lights[(i + n) % lights.length] },
      scene: { subject: 2, foliage: 2, height: 0.6 + 0.1 * (i % 3), mount: 'post', cover: false },
      visits: { species: { wren: 3, 'house sparrow': 3, blackbird: 3, starling: 2, 'wood mouse': 1 } },
      insects: 15,
    });
  return {
    name: `held out ${i}, ${gardens[i % gardens.length]}`,
    tune: [1, 2].map((n) => spec('tune', n)),
    judge: [1, 2, 3].map((n) => spec('judge', n)),
  };
}
