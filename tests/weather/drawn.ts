import { type SceneSpec, sceneSpec, siteNames } from '../../src/scene/spec.js';

/** A short drawn scene in a wind (Beaufort), of seeds that nothing else uses. */
export function drawnScene(i: number, wind: number, rate = 5): SceneSpec {
  return sceneSpec.parse({
    version: 1,
    title: 'a garden in the wind',
    site: siteNames[i % siteNames.length],
    seed: `build-weather-${i}`,
    seconds: 16,
    rate,
    start: '2026-05-04T09:00:00+01:00',
    place: { latitude: 51, longitude: -3 },
    conditions: { wind, rain: 0, light: 9000 },
    scene: { subject: 2, foliage: 2, height: 0.7, mount: 'post', cover: false },
  });
}
