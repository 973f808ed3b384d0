import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdirSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { addRecording } from '../../src/clip/add.js';
import { openClip } from '../../src/clip/open.js';
import { stillsClip, tempCache, tempDir } from './fixtures.js';

/** What can stand where a file is expected, and how a message says so. */
const others: [what: string, make: (path: string) => void | Promise<void>, told: RegExp][] = [
  ['a folder', (path) => mkdirSync(path), /this is a folder/],
  ['a named pipe', (path) => void execFileSync('mkfifo', [path]), /this is a named pipe/],
  ['a socket', listen, /this is a socket/],
  ['a device', (path) => symlinkSync('/dev/zero', path), /this is a device|leaves the clip folder/],
  [
    'a link to nothing',
    (path) => symlinkSync('nowhere', path),
    /a link that leads to nowhere, where there is/,
  ],
  ['a link in a circle', circle, /a link that leads in a circle/],
];

function listen(path: string): Promise<void> {
  const server = createServer();
  onTestFinished(() => void server.close());
  return new Promise((done) => server.listen(path, done));
}

function circle(path: string): void {
  symlinkSync(`${path}-b`, `${path}`);
  symlinkSync(path, `${path}-b`);
}

const open = async (dir: string) => openClip(dir, { cache: await tempCache() });

describe.skipIf(process.platform === 'win32').each(others)('%s', (_, make, told) => {
  it.each(['frames/2.jpg', 'clip.json', 'labels.json'])(
    'in the place of %s is refused by its name, and not waited for',
    async (name) => {
      const dir = await stillsClip(3, { 'labels.json': { version: 1, visits: [] } });
      rmSync(join(dir, name));
      await make(join(dir, name));
      const error = await open(dir).catch((e) => e);
      expect(error).toMatchObject({ name: 'Problem', message: expect.stringMatching(told) });
      expect(error.message).toContain(join(dir, name));
    },
  );

  it('as a video is refused', async () => {
    const dir = await tempDir();
    writeFileSync(join(dir, 'clip.json'), JSON.stringify({ version: 1, frames: 'a.mp4' }));
    await make(join(dir, 'a.mp4'));
    await expect(open(dir)).rejects.toMatchObject({ name: 'Problem' });
  });

  it('among stills to be added is refused, and nothing is made', async () => {
    const from = await stillsClip(2);
    await make(join(from, 'frames', '3.jpg'));
    const to = join(await tempDir(), 'clip');
    const added = addRecording(join(from, 'frames'), to, { rate: 5, cache: await tempCache() });
    await expect(added).rejects.toMatchObject({ name: 'Problem', message: expect.stringContaining('3.jpg') });
  });
});

describe.skipIf(process.platform === 'win32')('a recording to be added', () => {
  it.each([
    ['a device', '/dev/zero', /this is a device/],
    ['a link to nothing', 'link', /there is no such file/],
  ])('that is %s is refused', async (_, recording, told) => {
    const dir = await tempDir();
    symlinkSync('nowhere', join(dir, 'link'));
    const path = recording.startsWith('/') ? recording : join(dir, recording);
    const added = addRecording(path, join(dir, 'clip'), { cache: await tempCache() });
    await expect(added).rejects.toMatchObject({ name: 'Problem', message: expect.stringMatching(told) });
  });
});

describe('a link', () => {
  it('to a still inside the clip is a still', async () => {
    const dir = await stillsClip(2);
    symlinkSync('1.jpg', join(dir, 'frames', '3.jpg'));
    expect((await open(dir)).times.length).toBe(3);
  });

  it('to labels elsewhere is labels', async () => {
    const dir = await stillsClip(2, { 'labels.json': { version: 1, visits: [] } });
    const elsewhere = join(await tempDir(), 'mine.json');
    copyFileSync(join(dir, 'labels.json'), elsewhere);
    rmSync(join(dir, 'labels.json'));
    symlinkSync(elsewhere, join(dir, 'labels.json'));
    expect((await open(dir)).labels).not.toBeNull();
  });
});

describe('names of 250 characters', () => {
  const long = (ending: string) => 'n'.repeat(250 - ending.length) + ending;

  it('are read, of stills and of the clip', async () => {
    const dir = await stillsClip(2);
    renameSync(join(dir, 'frames', '2.jpg'), join(dir, 'frames', long('.jpg')));
    const clip = join(await tempDir(), long(''));
    renameSync(dir, clip);
    expect((await open(clip)).times.length).toBe(2);
  });

  it('are added as they are', async () => {
    const from = await stillsClip(2);
    renameSync(join(from, 'frames', '2.jpg'), join(from, 'frames', long('.jpg')));
    const to = join(await tempDir(), long(''));
    const added = await addRecording(join(from, 'frames'), to, { rate: 5, cache: await tempCache() });
    expect(added).toMatchObject({ dir: to, frames: 2 });
  });
});
