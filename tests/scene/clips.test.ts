import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { manifestSchema } from '../../src/clip/manifest.js';
import { createScene, type Scene } from '../../src/scene/scene.js';
import { type SceneSpec, sceneSpec } from '../../src/scene/spec.js';
import { labelsSchema } from '../../src/score/labels.js';

const folder = fileURLToPath(new URL('../../clips/', import.meta.url));
const specs = readdirSync(folder)
  .filter((name) => name.endsWith('.json'))
  .map((name) => sceneSpec.parse(JSON.parse(readFileSync(`${folder}${name}`, 'utf8'))));

describe('the demo clips', () => {
  let scenes: { spec: SceneSpec; scene: Scene }[];
  beforeAll(() => {
    scenes = specs.map((spec) => ({ spec, scene: createScene(spec) }));
  });

  it('last at least 30 minutes together', () => {
    expect(scenes.reduce((sum, { scene }) => sum + scene.seconds, 0)).toBeGreaterThanOrEqual(30 * 60);
  });

  it('hold at least 40 animal visits', () => {
    const visits = scenes.flatMap(({ scene }) => scene.labels.visits.filter((v) => v.type === 'animal'));
    expect(visits.length).toBeGreaterThanOrEqual(40);
  });

  it('show every species of the allotment', () => {
    const names = new Set(scenes.flatMap(({ scene }) => scene.labels.visits.map((v) => v.name)));
    expect(names).toEqual(
      new Set([
        'wren',
        'house sparrow',
        'blackbird',
        'starling',
        'moorhen',
        'wood mouse',
        'hedgehog',
        undefined,
      ]),
    );
  });

  it('are at three sites', () => {
    expect(new Set(specs.map((s) => s.site)).size).toBe(3);
  });

  it.each<[string, (spec: SceneSpec, scene: Scene) => boolean]>([
    ['calm', (s) => s.conditions.wind <= 1 && s.conditions.rain === 0 && !s.lightAtEnd],
    ['windy', (s) => s.conditions.wind >= 5],
    ['rainy', (s) => s.conditions.rain >= 2.5],
    [
      'dusky',
      (s, scene) => scene.manifest.conditions.light < 50 && (s.lightAtEnd ?? 1e9) < s.conditions.light,
    ],
    ['cloudy', (s, scene) => (s.clouds ?? 0) > 0 && scene.labels.causes!.some((c) => c.cause === 'light')],
    ['busy', (s, scene) => scene.labels.visits.some((v) => v.type === 'human') && (s.insects ?? 0) > 100],
  ])('one of them is %s', (_, is) => {
    expect(scenes.some(({ spec, scene }) => is(spec, scene))).toBe(true);
  });

  it('carry labels and a manifest that a clip may have', () => {
    for (const { scene } of scenes) {
      expect(labelsSchema.safeParse(scene.labels).error).toBeUndefined();
      expect(manifestSchema.safeParse({ ...scene.manifest, frames: 'frames/*.jpg' }).error).toBeUndefined();
    }
  });

  it('have all their visits and causes inside the clip', () => {
    for (const { scene } of scenes) {
      for (const s of [...scene.labels.visits, ...scene.labels.causes!, ...(scene.labels.ignored ?? [])]) {
        expect(s.start).toBeGreaterThanOrEqual(0);
        expect(s.end).toBeLessThanOrEqual(scene.seconds);
      }
    }
  });

  it('name causes outside visits only', () => {
    for (const { scene } of scenes) {
      for (const c of scene.labels.causes!) {
        for (const v of scene.labels.visits)
          expect(Math.min(c.end, v.end) - Math.max(c.start, v.start)).toBeLessThan(1e-9);
      }
    }
  });

  it('have visits of a second or two and of half a minute', () => {
    const lengths = scenes.flatMap(({ scene }) => scene.labels.visits.map((v) => v.end - v.start));
    expect(lengths.filter((s) => s <= 2).length).toBeGreaterThan(3);
    expect(lengths.filter((s) => s >= 20).length).toBeGreaterThan(3);
  });
});
