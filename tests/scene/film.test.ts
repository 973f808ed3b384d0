import { cpSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { type Clip, frames } from '../../src/clip/open.js';
import { openScene, sceneFolder } from '../../src/scene/film.js';
import { Cache } from '../../src/store/cache.js';
import { keepWithin } from '../../src/store/limit.js';
import { tempCache } from '../clip/fixtures.js';
import { damages } from '../support/damages.js';
import { smallDisk } from '../support/disk.js';
import { takenAway } from '../support/gone.js';
import { spec } from './specs.js';

const scene = spec({ seconds: 4, width: 64, height: 48, visits: { species: { blackbird: 1 } } });
const disk = smallDisk('64k');
afterEach(() => vi.useRealTimers());

/** All of its frames as they are read, and its labels. */
async function seen(clip: Clip) {
  const pictures: Buffer[] = [];
  const all = Array.from(clip.times.keys());
  for await (const { pixels } of frames(clip, all, { minWidth: 32, minHeight: 24 })) {
    pictures.push(Buffer.from(pixels));
  }
  return { pictures, labels: clip.labels };
}

function filesIn(folder: string): Record<string, string> {
  const names = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((e) => e.isFile());
  const paths = names.map(({ parentPath, name }) => join(parentPath, name)).sort();
  return Object.fromEntries(paths.map((path) => [path, readFileSync(path, 'latin1')]));
}

async function drawn() {
  const cache = await tempCache();
  const clip = await openScene(scene, { cache });
  const folder = sceneFolder(scene, cache);
  return { cache, clip, folder, files: filesIn(folder), pictures: await seen(clip) };
}

test('a drawing that is whole is not drawn again', async () => {
  const { cache, clip, files, folder } = await drawn();
  let drawings = 0;
  const again = await openScene(scene, { cache, onDrawing: () => drawings++ });
  expect(again.contentKey).toBe(clip.contentKey);
  expect(drawings).toBe(0);
  expect(filesIn(folder)).toEqual(files);
});

describe.each(Object.keys(damages))('a drawing with a file %s', (damage) => {
  test.each(['frames/000007.jpg', 'labels.json', 'clip.json', 'seal'])('is drawn again: %s', async (name) => {
    const { cache, folder, files, pictures } = await drawn();
    damages[damage]!(join(folder, name));
    expect(await seen(await openScene(scene, { cache }))).toEqual(pictures);
    expect(filesIn(folder)).toEqual(files);
    expect(readdirSync(cache.path('scenes'))).toHaveLength(1);
  });
});

test('a frame too many, or one in the place of another, is noticed', async () => {
  for (const name of ['000020.jpg', '000003.jpg']) {
    const { cache, folder, files } = await drawn();
    cpSync(join(folder, 'frames', '000004.jpg'), join(folder, 'frames', name));
    await openScene(scene, { cache });
    expect(filesIn(folder)).toEqual(files);
  }
});

test('labels that are whole, but of another scene, are noticed', async () => {
  const { cache, folder, files } = await drawn();
  writeFileSync(join(folder, 'labels.json'), '{ "version": 1, "visits": [] }');
  expect((await openScene(scene, { cache })).labels?.visits).toHaveLength(1);
  expect(filesIn(folder)).toEqual(files);
});

test('a file in the place of the drawing, or of all drawings, makes way', async () => {
  const { cache, folder, files } = await drawn();
  for (const path of [folder, cache.path('scenes')]) {
    rmSync(path, { recursive: true });
    writeFileSync(path, 'no folder');
    await openScene(scene, { cache });
    expect(filesIn(folder)).toEqual(files);
  }
});

test('four that draw the same at once all end well, and leave one drawing', async () => {
  const { files, pictures, folder } = await drawn();
  const cache = await tempCache();
  const clips = await Promise.all([1, 2, 3, 4].map(() => openScene(scene, { cache: new Cache(cache.root) })));
  for (const clip of clips) expect(await seen(clip)).toEqual(pictures);
  const made = sceneFolder(scene, cache);
  expect(Object.values(filesIn(made))).toEqual(Object.values(files));
  expect(readdirSync(cache.path('scenes'))).toHaveLength(1);
  expect(made.endsWith(folder.slice(-24))).toBe(true);
});

test('a drawing that goes away while it is read is drawn again, to the same frames', async () => {
  const { cache, clip, pictures, folder, files } = await drawn();
  const read: Buffer[] = [];
  const all = Array.from(clip.times.keys());
  for await (const { index, pixels } of frames(clip, all, { minWidth: 32, minHeight: 24, inFlight: 2 })) {
    if (index % 5 === 0) takenAway(cache.root);
    read.push(Buffer.from(pixels));
  }
  expect(read).toEqual(pictures.pictures);
  takenAway(cache.root);
  expect(await seen(clip)).toEqual(pictures);
  expect(filesIn(folder)).toEqual(files);
});

test('a drawing that is read for hours makes no room for others', async () => {
  const { cache, clip, folder, files } = await drawn();
  const later = Date.now() + 2 * 3_600_000;
  vi.useFakeTimers({ toFake: ['Date'], now: later });
  await seen(clip);
  await keepWithin(cache, 1);
  expect(filesIn(folder)).toEqual(files);
});

test.skipIf(disk.why)(`a drawing that finds no room leaves nothing ${disk.why ?? ''}`, async () => {
  const cache = new Cache(join(disk.path!, 'cache'), () => undefined);
  await expect(openScene(spec({ seconds: 60 }), { cache })).rejects.toMatchObject({
    code: 'file-unwritable',
    message: expect.stringMatching(/scenes.*no space left/),
  });
  expect(filesIn(disk.path!)).toEqual({});
});
