import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { defaultCamera } from '../../../src/camera/default.js';
import type { Clip } from '../../../src/clip/open.js';
import { diagnose } from '../../../src/diagnose/diagnose.js';
import type { CauseName, ClipDiagnosis } from '../../../src/diagnose/diagnosis.js';
import { openScene } from '../../../src/scene/film.js';
import type { SceneSpec } from '../../../src/scene/spec.js';
import { Cache } from '../../../src/store/cache.js';
import { spec } from '../../scene/specs.js';

const sensitive = {
  threshold: 16,
  minimumArea: 50,
  mostChanged: 76_800,
  persistence: 1,
  cooldown: 2,
  warnings: [],
};
const calm = { wind: 0, rain: 0, light: 15_000 };

let cache: Cache;
beforeAll(async () => {
  cache = new Cache(await mkdtemp(join(tmpdir(), 'perchmark-explain-')));
});
afterAll(() => rm(cache.root, { recursive: true, force: true }));

async function film(change: Partial<SceneSpec>): Promise<Clip> {
  return openScene(spec({ seconds: 40, seed: 'told by its labels', conditions: calm, ...change }), { cache });
}

async function diagnosed(clip: Clip): Promise<ClipDiagnosis> {
  const { clips } = await diagnose([clip], defaultCamera, sensitive, { cache });
  return clips[0]!;
}

describe('causes told through the whole program, stills and all, on scenes with exact labels', () => {
  const taught: [CauseName, Partial<SceneSpec>][] = [
    ['wind', { conditions: { ...calm, wind: 5 } }],
    ['rain', { conditions: { ...calm, rain: 12 }, site: 'water bowl' }],
    ['light', { conditions: { ...calm, light: 50_000 }, clouds: 240 }],
    ['shake', { shakes: 500 }],
    ['shadow', { conditions: { ...calm, light: 40_000 }, shadows: 500 }],
    ['insect', { insects: 700 }],
  ];

  test.each(taught)('%s alone is said of most of what fires', async (cause, change) => {
    const { explained } = await diagnosed(await film(change));
    expect(explained.length).toBeGreaterThanOrEqual(4);
    const right = explained.filter((e) => e.cause === cause).length;
    expect(right / explained.length).toBeGreaterThanOrEqual(0.6);
  });

  test('every false trigger is explained once, at its own time, with a box in the frame', async () => {
    const { judged, explained } = await diagnosed(await film({ conditions: { ...calm, wind: 5 } }));
    const falses = judged.triggers.filter(({ verdict }) => verdict === 'false');
    expect(explained.map(({ time }) => time)).toEqual(falses.map(({ time }) => time));
    for (const { box, probability } of explained) {
      const [x, y, w, h] = box;
      expect(Math.min(x, y)).toBeGreaterThanOrEqual(0);
      expect(Math.min(w, h)).toBeGreaterThan(0);
      expect(Math.max(x + w, y + h)).toBeLessThanOrEqual(1);
      expect(probability).toBeGreaterThan(1 / 8);
      expect(probability).toBeLessThanOrEqual(1);
    }
  });

  test('without labels every trigger is explained, for nothing tells which were false', async () => {
    const { labels: _, ...unlabelled } = await film({ conditions: { ...calm, wind: 5 } });
    const { judged, explained, missed } = await diagnosed({ ...unlabelled, labels: null });
    expect(explained.map(({ time }) => time)).toEqual(judged.triggers.map(({ time }) => time));
    expect(missed).toEqual([]);
  });

  test('the same clip gives the same answer', async () => {
    const clip = await film({ conditions: { ...calm, wind: 5 } });
    expect(await diagnosed(clip)).toEqual(await diagnosed(clip));
  });
});
