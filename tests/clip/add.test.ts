import { execFileSync, spawnSync } from 'node:child_process';
import { lstat, mkdir, readdir, readFile, rename, stat, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, onTestFinished, test, vi } from 'vitest';
import { addRecording } from '../../src/clip/add.js';
import { openClip } from '../../src/clip/open.js';
import { FolderInMaking } from '../../src/files/folder.js';
import { encode, jpeg, scene, tempCache, tempDir, writeFiles } from './fixtures.js';

async function stills(...names: string[]): Promise<string> {
  const dir = await tempDir();
  for (const name of names) await writeFiles(dir, { [name]: await jpeg(name) });
  return dir;
}

const target = async () => join(await tempDir(), 'my-clip');
const clipJson = async (dir: string) => JSON.parse(await readFile(join(dir, 'clip.json'), 'utf8'));

test('makes a clip of a folder of stills at a rate, copying files as they are', async () => {
  const recording = await stills('b10.jpg', 'b9.jpg');
  const [dir, cache] = [await target(), await tempCache()];
  const added = await addRecording(recording, dir, { rate: 5, title: 'Calm', site: 'log pile', cache });
  expect(added).toEqual({ dir, frames: 2, seconds: 0.4, start: null, warnings: [] });
  expect(await clipJson(dir)).toEqual({
    version: 1,
    title: 'Calm',
    site: 'log pile',
    frames: 'frames/*.jpg',
    rate: 5,
  });
  expect((await readdir(dir)).sort()).toEqual(['clip.json', 'frames']);
  for (const name of ['b9.jpg', 'b10.jpg']) {
    expect(await readFile(join(dir, 'frames', name))).toEqual(await readFile(join(recording, name)));
  }
  expect((await readdir(recording)).sort()).toEqual(['b10.jpg', 'b9.jpg']);
});

test('the copy is known at once: opening it reads no file again', async () => {
  const [dir, cache] = [await target(), await tempCache()];
  await addRecording(await stills('1.jpg'), dir, { rate: 5, cache });
  let files = 0;
  await openClip(dir, { cache, onProgress: () => files++ });
  expect(files).toBe(0);
});

test('takes EXIF times when all stills have them, else those of the names', async () => {
  const recording = await stills('20260504_061000.jpg');
  const exif = { IFD2: { DateTimeOriginal: '2026:05:04 06:10:07', SubSecTimeOriginal: '5' } };
  const second = await encode(scene(32, 24), 32, 24).withExif(exif).jpeg().toBuffer();
  await writeFile(join(recording, '20260504_061002.jpg'), second);
  const cache = await tempCache();
  const byNames = await target();
  expect(await addRecording(recording, byNames, { cache })).toMatchObject({ seconds: 4 });
  expect(await clipJson(byNames)).toMatchObject({ times: 'names' });

  exif.IFD2.DateTimeOriginal = '2026:05:04 06:10:04';
  const first = await encode(scene(32, 24), 32, 24).withExif(exif).jpeg().toBuffer();
  await writeFile(join(recording, '20260504_061000.jpg'), first);
  const byExif = await target();
  expect(await addRecording(recording, byExif, { cache })).toMatchObject({ seconds: 6 });
  expect(await clipJson(byExif)).toMatchObject({ times: 'exif' });
});

test.each([
  ['EXIF with its zone', 'a.jpg', '+02:00', '2026-05-04T06:10:07.500+02:00'],
  ['Unix time in names', '1777875007500.jpg', undefined, '2026-05-04T06:10:07.500Z'],
  ['EXIF of no zone', 'a.jpg', undefined, undefined],
  ['a zone that is none', 'a.jpg', 'summer', undefined],
  ['names in local time', '20260504_061007.jpg', undefined, undefined],
])('says when stills began where that is known with its zone: %s', async (_, name, zone, start) => {
  const dir = await target();
  const recording = await stills(name, 'z_20260504_061100.jpg');
  if (name === 'a.jpg') {
    for (const one of [name, 'z_20260504_061100.jpg']) {
      const DateTimeOriginal = one === name ? '2026:05:04 06:10:07' : '2026:05:04 06:11:00';
      const exif = { DateTimeOriginal, SubSecTimeOriginal: '5', ...(zone && { OffsetTimeOriginal: zone }) };
      const bytes = await encode(scene(32, 24), 32, 24).withExif({ IFD2: exif }).jpeg().toBuffer();
      await writeFile(join(recording, one), bytes);
    }
  }
  const added = await addRecording(recording, dir, { cache: await tempCache() });
  expect(added.start?.start).toBe(start);
  expect((await clipJson(dir)).start).toBe(start);
});

test('takes no long number in a name for a time where a rate was asked for', async () => {
  const options = { rate: 5, cache: await tempCache() };
  expect(await addRecording(await stills('1777875007.jpg'), await target(), options)).toMatchObject({
    start: null,
  });
});

test('endings that differ in case only make one clip', async () => {
  const dir = await target();
  await addRecording(await stills('1.jpg', '2.JPG'), dir, { rate: 5, cache: await tempCache() });
  expect(await clipJson(dir)).toMatchObject({ frames: 'frames/*' });
});

test('without any times it asks for a rate', async () => {
  const dir = await target();
  await expect(addRecording(await stills('1.jpg'), dir, { cache: await tempCache() })).rejects.toMatchObject({
    code: 'bad-times',
    message: expect.stringMatching(/--rate 5$/),
  });
  await expect(readdir(dir)).rejects.toMatchObject({ code: 'ENOENT' });
});

test('what openClip refuses is refused in terms of the recording, and nothing is left', async () => {
  const recording = await stills('1.jpg', '2.jpg');
  await writeFile(join(recording, '2.jpg'), 'text');
  const dir = await target();
  await expect(addRecording(recording, dir, { rate: 5, cache: await tempCache() })).rejects.toMatchObject({
    code: 'bad-picture',
    message: expect.stringContaining(
      `${join(recording, '2.jpg')} (frame 1, counted from 0): the name says JPEG`,
    ),
  });
  expect(await readdir(join(dir, '..'))).toEqual([]);
});

test.each([
  ['a folder without stills', async () => stills('x/1.jpg'), 'file-missing', /holds no stills/],
  ['nothing', async () => '/nowhere/at/all', 'file-missing', /there is no such file or folder/],
  ['one still', async () => join(await stills('1.jpg'), '1.jpg'), 'usage', /this is one still/],
  [
    'stills of two formats',
    async () => {
      const dir = await stills('1.jpg', '2.jpg');
      await rename(join(dir, '2.jpg'), join(dir, '2.png'));
      return dir;
    },
    'bad-picture',
    /2 formats \(JPEG, PNG\)/,
  ],
])('refuses %s', async (_, make, code, message) => {
  const adding = addRecording(await make(), await target(), { rate: 5, cache: await tempCache() });
  await expect(adding).rejects.toMatchObject({ code, message: expect.stringMatching(message) });
});

test('a clip inside the recording, or in a folder that holds something, is refused', async () => {
  const recording = await stills('1.jpg');
  const cache = await tempCache();
  await expect(addRecording(recording, join(recording, 'clip'), { rate: 5, cache })).rejects.toMatchObject({
    code: 'usage',
  });
  const full = await target();
  await mkdir(join(full, 'mine'), { recursive: true });
  await expect(addRecording(recording, full, { rate: 5, cache })).rejects.toMatchObject({
    code: 'file-unwritable',
  });
  expect(await readdir(full)).toEqual(['mine']);
});

test('rate and times together are refused', async () => {
  const options = { rate: 5, times: 'names' as const, cache: await tempCache() };
  await expect(addRecording(await stills('1.jpg'), await target(), options)).rejects.toMatchObject({
    code: 'usage',
  });
});

const withFfmpeg = test.skipIf(spawnSync('ffmpeg', ['-version']).error !== undefined);

/** A video of so many frames, at 5 a second. */
async function video(name: string, frames: number): Promise<string> {
  const file = join(await tempDir(), name);
  const source = ['-f', 'lavfi', '-i', 'testsrc=size=64x48:rate=5', '-frames:v', String(frames)];
  execFileSync('ffmpeg', ['-v', 'error', ...source, '-c:v', 'ffv1', `file:${file}`]);
  return file;
}

withFfmpeg.each(['a:b.mkv', '12:30:00.mkv', 'what?.mkv'])('a video may be called %s', async (name) => {
  const dir = await target();
  await addRecording(await video(name, 10), dir, { cache: await tempCache() });
  expect(await clipJson(dir)).toEqual({ version: 1, frames: 'recording.mkv' });
});

withFfmpeg('of a video of one frame it is said which video, and how to give a rate', async () => {
  const file = await video('one.mkv', 1);
  await expect(addRecording(file, await target(), { cache: await tempCache() })).rejects.toMatchObject({
    code: 'bad-times',
    message: `${file}: one frame with a time of its own has no length; say how many frames a second were taken: --rate 5`,
  });
});

/** Frames stored out of order in a container that does not say when each is shown. */
async function outOfOrder(name: string): Promise<string> {
  const file = join(await tempDir(), name);
  const source = ['-f', 'lavfi', '-i', 'testsrc=size=64x48:rate=25', '-frames:v', '600'];
  const mpeg4 = ['-c:v', 'mpeg4', '-bf', '2', '-g', '50'];
  execFileSync('ffmpeg', ['-v', 'error', ...source, ...(name.endsWith('avi') ? mpeg4 : ['-bf', '3']), file]);
  return file;
}

withFfmpeg('a video whose last frame alone has no time is taken, and that is said', async () => {
  const dir = join(await tempDir(), 'clip');
  const { frames, warnings } = await addRecording(await outOfOrder('dusk.avi'), dir, {
    cache: await tempCache(),
  });
  expect(frames).toBe(600);
  expect(warnings.join()).toMatch(
    /clip\/dusk\.avi: .*no presentation time for the last \d of its 600 frames; .* 0\.04 s/,
  );
});

withFfmpeg('where none of its frames has a time it is said how to give a rate here', async () => {
  const dir = join(await tempDir(), 'clip');
  const message = await addRecording(await outOfOrder('bare.h264'), dir, { cache: await tempCache() }).catch(
    (error) => error.message,
  );
  expect(message).toMatch(/bare\.h264 .*no presentation time .*: --rate 5$/);
});

withFfmpeg.each([
  ['2026-05-04T05:10:00Z', '2026-05-04T05:10:00Z'],
  ['1970-01-01T00:00:00Z', undefined],
])('says when a video began by its creation time, %s, unless no clock was set', async (time, start) => {
  const file = join(await tempDir(), 'dawn.mp4');
  const dir = await target();
  const made = await video('plain.mkv', 10);
  execFileSync('ffmpeg', [
    '-v',
    'error',
    '-i',
    made,
    '-c:v',
    'mpeg4',
    '-metadata',
    `creation_time=${time}`,
    file,
  ]);
  await addRecording(file, dir, { cache: await tempCache() });
  expect((await clipJson(dir)).start).toBe(start);
});

withFfmpeg('makes a clip of a video', async () => {
  const dir = await target();
  const added = await addRecording(await video('dawn.mkv', 10), dir, { cache: await tempCache() });
  expect(added).toMatchObject({ dir, frames: 10, seconds: 2 });
  expect(await clipJson(dir)).toEqual({ version: 1, frames: 'dawn.mkv' });
  expect((await readdir(dir)).sort()).toEqual(['clip.json', 'dawn.mkv']);
});

test('what is moved is no longer where it was', async () => {
  const recording = await stills('1.jpg', '2.jpg');
  const dir = await target();
  await addRecording(recording, dir, { rate: 5, moves: true, cache: await tempCache() });
  expect((await readdir(join(dir, 'frames'))).sort()).toEqual(['1.jpg', '2.jpg']);
  expect(await readdir(recording)).toEqual([]);
});

test('stopped while the finished clip is proved, it leaves nothing behind', async () => {
  const recording = await stills('1.jpg', '2.jpg');
  const dir = await target();
  const stop = new AbortController();
  const options = { rate: 5, cache: await tempCache(), signal: stop.signal, onProgress: () => stop.abort() };
  await expect(addRecording(recording, dir, options)).rejects.toThrow('aborted');
  expect(await readdir(join(dir, '..'))).toEqual([]);
  expect((await readdir(recording)).sort()).toEqual(['1.jpg', '2.jpg']);
});

test('linked, it is the recording itself that stands in the clip, and nothing is said', async () => {
  const recording = await stills('1.jpg', '2.jpg');
  // A link into the recording is followed: the clip holds the file, and no symbolic link.
  const elsewhere = join(await tempDir(), 'named.jpg');
  await rename(join(recording, '2.jpg'), elsewhere);
  await symlink(elsewhere, join(recording, '2.jpg'));
  const dir = await target();
  const added = await addRecording(recording, dir, { rate: 5, links: true, cache: await tempCache() });
  expect(added.warnings).toEqual([]);
  for (const name of ['1.jpg', '2.jpg']) {
    const there = await lstat(join(dir, 'frames', name));
    expect(there.isSymbolicLink()).toBe(false);
    expect(there.ino).toBe((await stat(join(recording, name))).ino);
  }
});

test('where it cannot be linked it is copied, and that is said', async () => {
  const recording = await stills('1.jpg', '2.jpg');
  const refusing = vi.spyOn(FolderInMaking.prototype, 'takeLink').mockResolvedValue(false);
  onTestFinished(() => refusing.mockRestore());
  const dir = await target();
  const added = await addRecording(recording, dir, { rate: 5, links: true, cache: await tempCache() });
  expect(added.warnings).toEqual([expect.stringMatching(/2 files were copied, .* hard link/)]);
  expect((await readdir(join(dir, 'frames'))).sort()).toEqual(['1.jpg', '2.jpg']);
});
