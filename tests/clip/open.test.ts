import { cp, rename, symlink, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Jimp } from 'jimp';
import { expect, test } from 'vitest';
import { frames, openClip } from '../../src/clip/open.js';
import {
  encode,
  jpeg,
  meanLumaDifference,
  read,
  scene,
  stillsClip,
  tempCache,
  tempDir,
  writeFiles,
} from './fixtures.js';

const open = async (dir: string) => openClip(dir, { cache: await tempCache() });

test('opens stills at a rate', async () => {
  const clip = await open(await stillsClip(4));
  expect(clip).toMatchObject({ width: 32, height: 24, seconds: 0.8, rate: 5, labels: null, warnings: [] });
  expect([...clip.times]).toEqual([0, 0.2, 0.4, 0.6]);
  expect(clip.contentKey).toMatch(/^[0-9a-f]{64}$/);
});

test('the length by times is the last one plus a mean interval', async () => {
  const manifest = { version: 1, frames: 'frames/*.jpg', times: [1, 1.5, 3] };
  const clip = await open(await stillsClip(3, { 'clip.json': manifest }));
  expect(clip).toMatchObject({ seconds: 3, rate: 1 });
});

test('reads EXIF times with their fractions', async () => {
  const dir = await stillsClip(0, { 'clip.json': { version: 1, frames: '*.jpg', times: 'exif' } });
  for (const [i, [second, fraction]] of [
    ['00', '50'],
    ['01', '25'],
    ['03', '000'],
  ].entries()) {
    const exif = {
      IFD2: { DateTimeOriginal: `2026:05:04 06:10:${second}`, SubSecTimeOriginal: fraction! },
    };
    await writeFile(
      join(dir, `${i}.jpg`),
      await encode(scene(32, 24), 32, 24).withExif(exif).jpeg().toBuffer(),
    );
  }
  const cache = await tempCache();
  expect([...(await openClip(dir, { cache })).times]).toEqual([0, 0.75, 2.5]);
  expect([...(await openClip(dir, { cache })).times]).toEqual([0, 0.75, 2.5]);
});

test('the content key depends on content and order, not on names', async () => {
  const clip = await open(await stillsClip(3));
  const renamed = await stillsClip(3);
  await rename(join(renamed, 'frames/3.jpg'), join(renamed, 'frames/7.jpg'));
  expect((await open(renamed)).contentKey).toBe(clip.contentKey);
  await rename(join(renamed, 'frames/7.jpg'), join(renamed, 'frames/0.jpg'));
  expect((await open(renamed)).contentKey).not.toBe(clip.contentKey);
});

test('unchanged files are read once, changed ones again', async () => {
  const dir = await stillsClip(3);
  const cache = await tempCache();
  const reads: number[] = [];
  const openCounting = async () => {
    let files = 0;
    const { contentKey } = await openClip(dir, { cache, onProgress: () => files++ });
    reads.push(files);
    return contentKey;
  };
  const before = await openCounting();
  await openCounting();
  await writeFile(join(dir, 'frames/2.jpg'), await jpeg('another'));
  expect(await openCounting()).not.toBe(before);
  await openCounting();
  // The last: a file changed a moment ago might change again under the same time stamp, so it is not trusted yet.
  expect(reads).toEqual([3, 0, 3, 3]);
});

test('frames come in order, whatever is in flight, and only those asked for', async () => {
  const clip = await open(await stillsClip(7));
  const all = await read(clip);
  expect(all.map((f) => f.index)).toEqual([0, 1, 2, 3, 4, 5, 6]);
  const some = await read(clip, [1, 4, 6], { minWidth: 32, minHeight: 24, inFlight: 2 });
  expect(some).toEqual([all[1], all[4], all[6]]);
});

test('large JPEGs are reduced while they are decoded, but not below the analysis size', async () => {
  const dir = await stillsClip(0, { 'frames/1.jpg': await jpeg('large', 320, 240) });
  const clip = await open(dir);
  const [full] = await read(clip, [0], { minWidth: 161, minHeight: 120 });
  const [half] = await read(clip, [0], { minWidth: 160, minHeight: 120 });
  expect(full).toMatchObject({ width: 320, height: 240 });
  expect(half).toMatchObject({ width: 160, height: 120 });
});

test('BMP stills are read', async () => {
  const png = await encode(scene(32, 24), 32, 24).png().toBuffer();
  const bmp = Buffer.from(await (await Jimp.fromBuffer(png)).getBuffer('image/bmp'));
  const manifest = { version: 1, frames: 'still.bmp', rate: 1 };
  const clip = await open(await stillsClip(0, { 'clip.json': manifest, 'still.bmp': bmp }));
  const [frame] = await read(clip);
  expect(meanLumaDifference(frame!, { pixels: scene(32, 24), channels: 3 })).toBe(0);
});

test('stops when it is aborted', async () => {
  const clip = await open(await stillsClip(6));
  const stop = new AbortController();
  const seen: number[] = [];
  const reading = async () => {
    const options = { minWidth: 1, minHeight: 1, signal: stop.signal };
    for await (const frame of frames(clip, [0, 1, 2, 3, 4, 5], options)) {
      seen.push(frame.index);
      if (frame.index === 1) stop.abort();
    }
  };
  await expect(reading()).rejects.toThrow(/abort/);
  expect(seen).toEqual([0, 1]);
});

test('labels are checked against the clip; given ones take the place of the file', async () => {
  const visit = { start: 0.1, end: 1.5, type: 'animal' as const };
  const dir = await stillsClip(4, { 'labels.json': { version: 1, visits: [visit] } });
  expect((await open(dir)).labels?.visits[0]?.end).toBe(0.8);
  const labels = { version: 1 as const, visits: [] };
  expect((await openClip(dir, { cache: await tempCache(), labels })).labels).toEqual(labels);
});

const broken: [string, (dir: string) => Promise<unknown>, string, RegExp][] = [
  [
    'no clip.json',
    (d) => rename(join(d, 'clip.json'), join(d, 'x')),
    'file-missing',
    /clip\.json: there is no such/,
  ],
  [
    'clip.json that is no JSON',
    (d) => writeFile(join(d, 'clip.json'), '{'),
    'not-json',
    /clip\.json: not valid/,
  ],
  [
    'stills without times',
    (d) => writeFiles(d, { 'clip.json': { version: 1, frames: 'frames/*.jpg' } }),
    'bad-times',
    /stills need their times/,
  ],
  [
    'a list of times of another length',
    (d) => writeFiles(d, { 'clip.json': { version: 1, frames: 'frames/*.jpg', times: [0, 1] } }),
    'bad-times',
    /expected one time for each of the 3 frames, found 2/,
  ],
  [
    'stills with times of a video',
    (d) => writeFiles(d, { 'clip.json': { version: 1, frames: 'frames/*.jpg', times: 'video' } }),
    'bad-times',
    /"video" is for a video/,
  ],
  [
    'stills without EXIF',
    (d) => writeFiles(d, { 'clip.json': { version: 1, frames: 'frames/*.jpg', times: 'exif' } }),
    'bad-times',
    /1\.jpg \(frame 0, counted from 0\): no EXIF DateTimeOriginal/,
  ],
  [
    'an empty folder of frames',
    (d) => writeFiles(d, { 'clip.json': { version: 1, frames: 'none/*.jpg', rate: 1 } }),
    'file-missing',
    /none.* cannot be listed/,
  ],
  [
    'a zero-byte picture',
    (d) => truncate(join(d, 'frames/2.jpg')),
    'bad-picture',
    /2\.jpg \(frame 1.*is empty/,
  ],
  [
    'a PNG named .jpg',
    async (d) => writeFile(join(d, 'frames/3.jpg'), await encode(scene(32, 24), 32, 24).png().toBuffer()),
    'bad-picture',
    /3\.jpg \(frame 2.*says JPEG, but the file is a PNG/,
  ],
  [
    'text named .jpg',
    (d) => writeFile(join(d, 'frames/1.jpg'), 'not a picture'),
    'bad-picture',
    /1\.jpg \(frame 0.*no picture this program knows/,
  ],
];

test.each(broken)('refuses %s', async (_, harm, code, message) => {
  const dir = await stillsClip(3);
  await harm(dir);
  await expect(open(dir)).rejects.toMatchObject({
    name: 'Problem',
    code,
    message: expect.stringMatching(message),
  });
});

test('refuses a still that links out of the clip', async () => {
  const dir = await stillsClip(1);
  const elsewhere = await stillsClip(1);
  await symlink(join(elsewhere, 'frames/1.jpg'), join(dir, 'frames/2.jpg'));
  await expect(open(dir)).rejects.toMatchObject({ code: 'leaves-folder' });
});

test.each([
  ['as stored', 32],
  ['while it is reduced', 16],
])('a picture cut in half is named with its index, decoded %s', async (_, minWidth) => {
  const dir = await stillsClip(3);
  const whole = await jpeg('half');
  await writeFile(join(dir, 'frames/2.jpg'), whole.subarray(0, whole.length / 2));
  const clip = await open(dir);
  await expect(read(clip, [0, 1, 2], { minWidth, minHeight: 12 })).rejects.toMatchObject({
    code: 'bad-picture',
    message: expect.stringMatching(/2\.jpg \(frame 1, counted from 0\): the picture is truncated or damaged/),
  });
});

test('a picture of another size is named with its index and both sizes', async () => {
  const dir = await stillsClip(3, { 'frames/3.jpg': await jpeg('other', 40, 24) });
  const clip = await open(dir);
  await expect(read(clip)).rejects.toThrow(/3\.jpg \(frame 2.*is 40x24, but frame 0 is 32x24/);
});

test('opening the same content from another folder gives the same pixels and key', async () => {
  const dir = await stillsClip(2);
  const copy = join(await tempDir(), 'copy');
  await cp(dir, copy, { recursive: true });
  const [one, two] = [await open(dir), await open(copy)];
  expect(two.contentKey).toBe(one.contentKey);
  expect(await read(two)).toEqual(await read(one));
});
