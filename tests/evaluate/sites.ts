import seedrandom from 'seedrandom';
import { type SceneSpec, sceneSpec, siteNames } from '../../src/scene/spec.js';

/**
 * Scenes to judge recommendations on. Everything about site i follows from the seed `${family}-${i}`, so families share
 * nothing: one may be used while building, another is kept for judging.
 */
export function siteSpec(family: string, i: number, seconds: number): SceneSpec {
  const random = seedrandom(`${family}-${i}`);
  const between = (low: number, high: number) => low + random() * (high - low);
  const site = siteNames[i % siteNames.length] as (typeof siteNames)[number];
  const wet = random() < 0.25;
  const dim = random() < 0.2;
  return sceneSpec.parse({
    version: 1,
    title: `site ${i}`,
    site,
    seed: `${family}-${i}`,
    seconds,
    rate: 5,
    width: 320,
    height: 240,
    start: '2026-05-04T09:00:00+01:00',
    place: { latitude: 51, longitude: -3 },
    conditions: {
      wind: Math.round(between(0, 5)),
      rain: wet ? between(0.5, 6) : 0,
      light: dim ? between(20, 200) : between(2000, 40_000),
    },
    scene: {
      subject: between(1.4, 3),
      foliage: between(1.5, 4),
      height: between(0.4, 1.3),
      mount: 'post',
      cover: false,
    },
    visits: {
      perHour: 144,
      species: {
        wren: 2,
        'house sparrow': 3,
        blackbird: 3,
        starling: 2,
        moorhen: 1,
        'wood mouse': 2,
        hedgehog: 1,
      },
    },
    insects: between(0, 30),
    shadows: between(0, 12),
    clouds: between(0, 12),
  });
}
