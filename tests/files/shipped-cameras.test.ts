import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { positions } from '../../src/camera/dials.js';
import { keepsEvidence } from '../../src/camera/keeps-evidence.js';
import { resolveSettings } from '../../src/camera/settings.js';
import { readCamera } from '../../src/files/read-camera.js';
import { shippedCameras, shippedFile } from '../../src/files/shipped-cameras.js';
import { jsonSchemaNamed } from '../../src/jobs/schemas.js';
import { drawFrames, smallCamera, writeClip } from '../support/clips.js';
import { commandIn } from '../support/command.js';

const folder = mkdtempSync(join(tmpdir(), 'shipped-'));
afterAll(() => rmSync(folder, { recursive: true }));
const perchmark = commandIn(folder);
const write = (name: string, content: object) => writeFileSync(join(folder, name), JSON.stringify(content));
const readme = readFileSync(fileURLToPath(new URL('../../README.md', import.meta.url)), 'utf8');

describe('cameras that ship', () => {
  it('are those of the list, each told in README', () => {
    const there = readdirSync(dirname(shippedFile(shippedCameras[0])));
    expect(there.map((name) => basename(name, '.json')).sort()).toEqual([...shippedCameras].sort());
    const [, table = ''] = readme.split('<!-- cameras -->');
    const told = [...table.split('\n\n')[0]!.matchAll(/^\| `([a-z-]+)` \|/gm)].map(([, name]) => name);
    expect(told).toEqual([...shippedCameras]);
  });

  it.each(shippedCameras)('%s is a camera whose dials have a middle', async (name) => {
    const camera = await readCamera(name);
    expect(Object.values(camera.controls).every((dial) => positions(dial).length > 2)).toBe(true);
    const set = Object.values(camera.controls).map(({ sets }) => sets);
    expect(set).toEqual(expect.arrayContaining(['threshold', 'minimumArea', 'cooldown']));
    expect(keepsEvidence(camera)).toBe(!/busy|idle/.test(name));
  });

  it.each(shippedCameras)(
    '%s says of settings with a dial that it lacks which would do instead',
    async (name) => {
      const camera = await readCamera(name);
      const resolve = (controls: Record<string, number>) =>
        resolveSettings({ version: 1, controls }, camera, 'now.json');
      const refusal = (controls: Record<string, number>) => {
        try {
          resolve(controls);
          return '';
        } catch (error) {
          return (error as Error).message;
        }
      };
      // A dial that none has, and a position that no dial of that name has.
      for (const message of [refusal({ brightness: 3 }), refusal({ minimumArea: 7 })]) {
        const [, given = ''] = /; with every dial at its middle: "controls": (\{.*\})$/.exec(message) ?? [];
        const instead = JSON.parse(given) as Record<string, number>;
        expect(Object.keys(instead)).toEqual(Object.keys(camera.controls));
        expect(resolve(instead).warnings).toEqual([]);
      }
    },
  );

  it('stand whole in the schema of a camera', async () => {
    const { examples } = (await jsonSchemaNamed('camera')) as { examples: { name: string }[] };
    expect(examples).toEqual(
      shippedCameras.map((name) => JSON.parse(readFileSync(shippedFile(name), 'utf8'))),
    );
  });
});

describe('the name of one', () => {
  const settings = { version: 1, threshold: 18, minimumArea: 16, cooldown: 5 };
  beforeAll(async () => {
    const path = (k: number) =>
      k >= 20 && k <= 30 ? { x: 2 + (k - 20) * 5, y: 20, size: 8, level: 160 } : null;
    const labels = { version: 1, visits: [{ start: 4, end: 7, name: 'wren' }] };
    await writeClip(join(folder, 'calm'), drawFrames(50, path, 'shipped'), labels);
    write('settings.json', settings);
    write('suite.json', { version: 1, clips: ['calm'], camera: 'small-and-slow', settings });
  });

  it.each(shippedCameras)('%s stands for a file of a camera', async (name) => {
    const { code, out } = await perchmark(
      'replay',
      'calm',
      '--camera',
      name,
      '--settings',
      'settings.json',
      '--json',
    );
    expect(code).toBe(0);
    expect(JSON.parse(out).total).toMatchObject({ visits: 1, caught: 1 });
  });

  it('stands for one in a suite, in what that is held against, and in a project', async () => {
    const { out } = await perchmark('check', 'suite.json', '--against', 'previous-frame', '--json');
    expect(JSON.parse(out).changed.join()).toMatch(/analysis\.width 320, was 160/);
    mkdirSync(join(folder, 'garden'));
    write('garden/perchmark.json', {
      version: 1,
      sites: [{ site: 'pile', clips: ['../calm'], camera: 'small-and-slow', settings }],
    });
    expect((await perchmark('replay', 'garden')).code).toBe(0);
    const size = await commandIn(join(folder, 'garden'))('size', '--animal', 'wren', '--distance', '2');
    expect(size.out).toContain('in 160 x 120');
    expect(size.err).toContain('from perchmark.json: small-and-slow\n');
  });

  it('gives way to a file of that name', async () => {
    write('slow-average', smallCamera);
    const { err } = await perchmark(
      'replay',
      'calm',
      '--camera',
      'slow-average',
      '--settings',
      'settings.json',
    );
    expect(err).toContain('small camera');
    rmSync(join(folder, 'slow-average'));
  });

  it('is offered where nothing of the name given is there', async () => {
    const { code, err } = await perchmark(
      'replay',
      'calm',
      '--camera',
      'small-n-slow',
      '--settings',
      'settings.json',
    );
    expect(code).toBe(2);
    expect(err).toMatch(
      /small-n-slow: there is no such file; .*previous-frame, .*\(did you mean 'small-and-slow'\?\)/,
    );
  });
});

it('README tells every field of a camera', async () => {
  const names = (node: object): string[] =>
    Object.entries(node).flatMap(([key, value]) => [
      ...(key === 'properties' ? Object.keys(value as object) : []),
      ...(typeof value === 'object' && value !== null && key !== 'examples' ? names(value) : []),
    ]);
  const table = /<!-- fields -->(.*?)<!-- end of fields -->/s.exec(readme)?.[1] ?? '';
  const fields = new Set(names(await jsonSchemaNamed('camera')));
  expect([...fields].filter((name) => name !== '$schema' && !table.includes(`\`${name}\``))).toEqual([]);
  expect(fields.size).toBeGreaterThan(30);
});
