import { describe, expect, it } from 'vitest';
import type { z } from 'zod';
import { parseJson } from '../../src/base/json.js';
import { cameraSchema } from '../../src/camera/description.js';
import { senseless } from '../../src/camera/dials.js';
import { suiteSchema } from '../../src/check/suite.js';
import { manifestSchema } from '../../src/clip/manifest.js';
import { sceneSpec } from '../../src/scene/spec.js';
import { labelsSchema } from '../../src/score/labels.js';

const camera = {
  version: 1,
  analysis: { width: 320, height: 240, rate: 5 },
  reference: { kind: 'previous' },
};
const clip = { version: 1, frames: 'frames/*.jpg' };
const suite = { version: 1, clips: ['a'], settings: 'b.json' };
const visit = { start: 0, end: 1 };
const scene = {
  version: 1,
  title: 'a scene',
  site: 'log pile',
  seed: '1',
  seconds: 60,
  start: '2026-05-04T06:10:00+01:00',
  place: { latitude: 51.5, longitude: -3.2 },
  conditions: { wind: 0, rain: 0, light: 1000 },
  scene: { subject: 2, foliage: 3, height: 1, mount: 'post', cover: false },
};

type Row = [path: string, schema: z.ZodType, file: (n: number) => object, low: number, high: number];

const average = (seconds: number) => ({ ...camera, reference: { kind: 'average', seconds } });
const analysis = (given: object) => ({ ...camera, analysis: { ...camera.analysis, ...given } });
const rows: Row[] = [
  ['analysis.width', cameraSchema, (width) => analysis({ width }), 1, 8192],
  ['analysis.height', cameraSchema, (height) => analysis({ height }), 1, 8192],
  ['analysis.rate', cameraSchema, (rate) => analysis({ rate }), 0.00001, 1000],
  ['analysis.smooth', cameraSchema, (smooth) => analysis({ smooth }), 0, 64],
  ['reference.lag', cameraSchema, (lag) => ({ ...camera, reference: { kind: 'previous', lag } }), 1, 100_000],
  ['reference.seconds', cameraSchema, average, 0.001, 86_400],
  ['shutterLag', cameraSchema, (shutterLag) => ({ ...camera, shutterLag }), 0, 3600],
  ['burst.photos', cameraSchema, (photos) => ({ ...camera, burst: { photos } }), 1, 1000],
  ['burst.interval', cameraSchema, (interval) => ({ ...camera, burst: { photos: 2, interval } }), 0, 3600],
  ['lens.hfov', cameraSchema, (hfov) => ({ ...camera, lens: { hfov } }), 0.1, 179],
  [
    'exposure.longest',
    cameraSchema,
    (longest) => ({ ...camera, exposure: { longest, mostGain: 8 } }),
    1e-5,
    3600,
  ],
  [
    'exposure.mostGain',
    cameraSchema,
    (mostGain) => ({ ...camera, exposure: { longest: 1, mostGain } }),
    1,
    1e5,
  ],
  [
    'sensor.fullWell',
    cameraSchema,
    (fullWell) => ({ ...camera, sensor: { fullWell, readNoise: 1 } }),
    100,
    1e9,
  ],
  [
    'sensor.readNoise',
    cameraSchema,
    (readNoise) => ({ ...camera, sensor: { fullWell: 1e4, readNoise } }),
    0,
    1e4,
  ],
  ['power.mAh', cameraSchema, (mAh) => ({ ...camera, power: { mAh } }), 1, 1e7],
  ['power.cellVolts', cameraSchema, (cellVolts) => ({ ...camera, power: { cellVolts } }), 0.5, 100],
  ['power.efficiency', cameraSchema, (efficiency) => ({ ...camera, power: { efficiency } }), 0.05, 1],
  ['power.volts', cameraSchema, (volts) => ({ ...camera, power: { volts } }), 0.5, 100],
  ['power.idle', cameraSchema, (idle) => ({ ...camera, power: { idle } }), 0.0001, 100],
  ['power.photoJoules', cameraSchema, (photoJoules) => ({ ...camera, power: { photoJoules } }), 0, 100_000],
  ['storage.cardGB', cameraSchema, (cardGB) => ({ ...camera, storage: { cardGB } }), 0.001, 100_000],
  ['storage.photoMB', cameraSchema, (photoMB) => ({ ...camera, storage: { photoMB } }), 0.0001, 10_000],
  ['rate', manifestSchema, (rate) => ({ ...clip, rate }), 0.00001, 1000],
  ['place.latitude', manifestSchema, (latitude) => ({ ...clip, place: { latitude, longitude: 0 } }), -90, 90],
  [
    'place.longitude',
    manifestSchema,
    (longitude) => ({ ...clip, place: { latitude: 0, longitude } }),
    -180,
    180,
  ],
  ['conditions.wind', manifestSchema, (wind) => ({ ...clip, conditions: { wind } }), 0, 12],
  ['conditions.rain', manifestSchema, (rain) => ({ ...clip, conditions: { rain } }), 0, 1000],
  ['conditions.light', manifestSchema, (light) => ({ ...clip, conditions: { light } }), 0, 200_000],
  ['scene.subject', manifestSchema, (subject) => ({ ...clip, scene: { subject } }), 0.01, 10_000],
  ['scene.foliage', manifestSchema, (foliage) => ({ ...clip, scene: { foliage } }), 0.01, 10_000],
  ['scene.height', manifestSchema, (height) => ({ ...clip, scene: { height } }), 0, 1000],
  [
    'ignored[0].end',
    labelsSchema,
    (end) => ({ version: 1, visits: [], ignored: [{ start: 0, end }] }),
    0,
    1e9,
  ],
  ['visits[0].count', labelsSchema, (count) => ({ version: 1, visits: [{ ...visit, count }] }), 1, 1_000_000],
  ['limits.recall', suiteSchema, (recall) => ({ ...suite, limits: { recall } }), 0, 1],
  [
    'limits.falsePerHour',
    suiteSchema,
    (falsePerHour) => ({ ...suite, limits: { falsePerHour } }),
    0,
    1_000_000,
  ],
  ['seconds', sceneSpec, (seconds) => ({ ...scene, seconds }), 1, 86_400],
  ['scene.subject', sceneSpec, (subject) => ({ ...scene, scene: { ...scene.scene, subject } }), 0.8, 6],
];

describe('a number in a file', () => {
  it.each(rows)(
    '%s is taken within what is real, and refused beyond with the range',
    (path, schema, file, low, high) => {
      const read = (n: number) => parseJson(JSON.stringify(file(n)), 'a.json', schema, 'a file');
      expect(() => [read(low), read(high)]).not.toThrow();
      const refused = new RegExp(
        `^a\\.json: ${path.replace(/[[\].]/g, '\\$&')}: expected .* from ${low} to ${high},`,
      );
      for (const n of [low - 1, -1e300, high + 1, 1e300]) expect(() => read(n)).toThrow(refused);
      if (low > 0) expect(() => read(1e-320)).toThrow(path);
    },
  );

  it('that stands for nothing is refused, where all is so far apart as one', () => {
    expect(() =>
      parseJson('{"version":1,"visits":[],"ignored":[{"start":0,"end":1e999}]}', 'a.json', labelsSchema, 'x'),
    ).toThrow(/found Infinity/);
  });
});

describe('an engine value', () => {
  it.each([
    ['threshold', [1e-300, 255], [0, -1, 255.1, 1e300]],
    ['minimumArea', [1, 76_800], [0.9, 76_801, 1e300]],
    ['mostChanged', [1, 76_800], [0, 76_801]],
    ['persistence', [1, 1_000_000], [0, 1.5, 1_000_001, 1e300]],
    ['cooldown', [0, 86_400], [-1, 86_401, 1e300]],
  ] as const)('%s is taken within what makes sense', (value, taken, refused) => {
    expect(taken.map((x) => senseless(value, x, 76_800))).toEqual(taken.map(() => null));
    expect(refused.filter((x) => senseless(value, x, 76_800) === null)).toEqual([]);
  });
});
