import { type SceneSpec, sceneSpec } from '../../src/scene/spec.js';

/** A short scene, changed as a test needs it. */
export function spec(change: Partial<SceneSpec> = {}): SceneSpec {
  return sceneSpec.parse({
    version: 1,
    title: 'a test',
    site: 'log pile',
    seed: 'one',
    seconds: 20,
    start: '2026-05-04T06:50:00+01:00',
    place: { latitude: 51, longitude: -3 },
    conditions: { wind: 2, rain: 0, light: 12000 },
    scene: { subject: 1.8, foliage: 1.9, height: 0.5, mount: 'post', cover: false },
    ...change,
  });
}

export function conditions(wind: number, rain = 0, light = 12000): Pick<SceneSpec, 'conditions'> {
  return { conditions: { wind, rain, light } };
}
