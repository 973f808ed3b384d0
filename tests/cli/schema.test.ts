import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { jsonSchemaNamed, schemaNamed, schemasListed } from '../../src/jobs/schemas.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';
import { writePhotos } from '../support/photos.js';

const shipped = fileURLToPath(new URL('../../dist/schemas/', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'schema-'));
afterAll(() => rmSync(folder, { recursive: true }));

const perchmark = commandIn(folder);
const BEGAN = '2026-05-04T06:10:00Z';

beforeAll(async () => {
  const write = (name: string, value: unknown) => writeFileSync(join(folder, name), JSON.stringify(value));
  // Two crossings, the second faint, and a patch in the corner that goes to and fro between them.
  const frames = drawFrames(
    300,
    (k) =>
      (k >= 40 && k < 50) || (k >= 200 && k < 210)
        ? { x: 10 + 4 * (k % 10), y: 10, size: 8, level: k < 100 ? 190 : 125 }
        : k % 25 < 10
          ? { x: k % 2 ? 2 : 6, y: 38, size: 8, level: 60 }
          : null,
    'schema',
  );
  const visits = [
    { start: '0:08', end: '0:10.2', name: 'wren', box: [0, 0, 1, 0.5] },
    { start: 40, end: 42.2 },
  ];
  const manifest = { rate: 5, conditions: { wind: 2, rain: 0, light: 9000 } };
  await writeClip(join(folder, 'labelled'), frames, { version: 1, visits }, manifest);
  await writeClip(join(folder, 'calm'), frames.slice(0, 100), {
    version: 1,
    visits: [{ start: 8, end: '0:10.2' }],
  });
  const [first] = readdirSync(join(folder, 'calm', 'frames'));
  writeFileSync(join(folder, 'frames.csv'), `photo,seen\n${first},animal\n`);
  await writeClip(join(folder, 'unlabelled'), frames.slice(0, 60), null);
  mkdirSync(join(folder, 'out'));
  writeFileSync(
    join(folder, 'out', 'others.csv'),
    `observationID,deploymentID,eventStart,eventEnd,observationLevel,observationType,sex\no,d,${BEGAN},${BEGAN},event,animal,female\n`,
  );
  await writeClip(join(folder, 'bare'), frames.slice(0, 60), null);
  await writePhotos(join(folder, 'photos'), {
    'a.jpg': '2026-05-09 06:00:00',
    'b.jpg': '2026-05-09 07:10:00',
    'c.jpg': '2026-05-09 08:00:00',
  });
  writeFileSync(join(folder, 'photos.csv'), 'photo,seen\na.jpg,animal\nb.jpg,nothing\n');
  const hours = { from: '2026-05-09T05:00:00+01:00', to: '2026-05-09T07:30:00+01:00' };
  const falsePerHour = { value: 3, low: 1, high: 6 };
  write('promised.json', {
    sites: [{ site: null, stretches: [{ ...hours, conditions: ['calm'], falsePerHour }] }],
  });
  // Whenever the patch begins to go to and fro.
  write('fired.json', [0.2, 5, 10, 15]);
  write('camera.json', smallCamera);
  write('now.json', { version: 1, threshold: 46, minimumArea: 16, cooldown: 1 });
  write('keen.json', { version: 1, controls: { sensitivity: 4, minimumArea: 16, cooldown: 1 } });
  write('suite.json', {
    version: 1,
    clips: ['labelled', { clip: 'calm', limits: { recall: 0 } }],
    camera: 'camera.json',
    settings: 'now.json',
  });
});

const by = ['--camera', 'camera.json', '--settings', 'now.json'];
const tune = ['tune', 'labelled', 'calm', '--camera', 'camera.json'];

describe('what a verb prints with --json is what its schema says, no field more or less', () => {
  it.each<[args: string[], exit: number, filled: string[]]>([
    [['add', 'labelled/frames', 'added', '--rate', '5'], 0, []],
    [['weather', 'labelled', 'windy', '--wind', '5', '--light', '20'], 0, ['defaults']],
    [['budget', '--photos', 'labelled/frames', '--photos-per-hour', '9'], 0, ['assumed', 'notes', 'inCold']],
    [['budget', '--camera', 'camera.json'], 0, ['assumed']],
    [['size', '--animal', 'wren', '--distance', '9'], 0, ['assumed', 'notes', 'mostChanged']],
    [['size', '--length', '9.5', '--distance', '1', '--camera', 'camera.json'], 0, ['assumed']],
    [['evening', 'calm/frames'], 0, ['notes']],
    [['evening', 'calm/frames', '--marks', 'frames.csv', '--promised', 'promised.json'], 0, ['assumed']],
    [
      ['evening', 'photos', '--marks', 'photos.csv', '--promised', 'promised.json'],
      0,
      ['byHour', 'byStretch', 'byCondition', 'assumed'],
    ],
    [['fit', 'calm', '--fired', 'fired.json'], 0, ['equallyGood', 'notes']],
    [['replay', 'labelled', 'bare', ...by], 0, ['clips']],
    [[...tune], 0, ['byCondition', 'simulations', 'notches', 'front']],
    [[...tune, '--recorded-only', '--false-per-hour', '0'], 0, ['byCondition']],
    [
      [
        'diagnose',
        'labelled',
        'bare',
        ...by,
        '--against',
        'keen.json',
        '--write-mask',
        'mask.json',
        '--teach',
      ],
      0,
      ['falseTriggers', 'unjudged', 'missed', 'notes', 'places', 'advice', 'against'],
    ],
    [['diagnose', 'labelled', '--camera', 'camera.json', '--settings', 'keen.json'], 0, ['cures']],
    [['check', 'suite.json'], 1, ['reasons', 'clips', 'limits']],
    [['check', 'suite.json', '--accept', '--why', 'as it was hung'], 0, []],
    [['check', 'suite.json', '--against', 'keen.json'], 0, ['changed']],
    [
      ['labels', 'export', 'labelled', 'out', '--as', 'camtrap-dp', '--start', BEGAN, '--place', '51.5,-3.2'],
      0,
      ['files', 'notHeld', 'notes'],
    ],
    [['labels', 'import', 'out', 'unlabelled', '--as', 'camtrap-dp', '--start', BEGAN], 0, []],
    [
      ['labels', 'import', 'out/others.csv', 'unlabelled', '--as', 'camtrap-dp', '--start', BEGAN, '--force'],
      0,
      ['notHeld', 'notes'],
    ],
    [['kept', '--limit', '3'], 0, ['kinds']],
  ])('%j', async (args, exit, filled) => {
    const { code, out, err } = await perchmark(...args, '--json');
    expect({ code, err: code === 2 ? err : '' }).toEqual({ code: exit, err: '' });
    const verb = args[0] === 'labels' ? `labels-${args[1]}` : args[0]!;
    const document = JSON.parse(out);
    // An empty list would fit whatever its entries were said to be.
    for (const list of filled) expect(document[list]).not.toEqual([]);
    expect((await schemaNamed(verb)).parse(document)).toEqual(document);
    const schema = JSON.parse(JSON.stringify(await jsonSchemaNamed(verb)));
    expect(z.fromJSONSchema(schema).parse(document)).toEqual(document);
    expect(z.fromJSONSchema(schema).safeParse({ ...document, more: 1 }).success).toBe(false);
  });

  it('and clip.json, labels.json and accepted results that are written fit theirs', async () => {
    for (const [name, file] of [
      ['clip', 'windy/clip.json'],
      ['labels', 'windy/labels.json'],
      ['accepted', 'suite.accepted.json'],
    ] as const) {
      const schema = z.fromJSONSchema(JSON.parse(JSON.stringify(await jsonSchemaNamed(name))));
      expect(schema.safeParse(JSON.parse(readFileSync(join(folder, file), 'utf8'))).error).toBeUndefined();
    }
  });
});

describe('the verb', () => {
  it('lists all names, a line each', async () => {
    const { code, out } = await perchmark('schema');
    expect(code).toBe(0);
    for (const { name, about } of schemasListed) {
      expect(
        out.split('\n').filter((line) => line.trim().startsWith(`${name} `) && line.includes(about)),
      ).toHaveLength(1);
    }
    expect(JSON.parse((await perchmark('schema', '--json')).out)).toEqual(schemasListed);
  });

  it('prints one, which is the file that is shipped', async () => {
    expect(readdirSync(shipped)).toHaveLength(schemasListed.length);
    for (const { name } of schemasListed) {
      const { out } = await perchmark('schema', name);
      expect(readFileSync(join(shipped, `${name}.schema.json`), 'utf8')).toBe(out);
    }
  });

  it('refuses a name that is none in one line', async () => {
    const { code, out, err } = await perchmark('schema', 'lables');
    expect({ code, out, lines: err.trim().split('\n').length }).toEqual({ code: 2, out: '', lines: 1 });
    expect(err).toMatch(/did you mean 'labels'/);
  });
});
