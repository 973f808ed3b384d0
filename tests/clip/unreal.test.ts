import { expect, it } from 'vitest';
import { openClip } from '../../src/clip/open.js';
import { stillsClip, tempCache } from './fixtures.js';

const open = async (more: object) =>
  openClip(await stillsClip(3, more as never), { cache: await tempCache() });
const manifest = (given: object) => ({ 'clip.json': { version: 1, frames: 'frames/*', ...given } });

/** A bitmap of no pixels: its header alone. */
const empty = Buffer.alloc(54);
empty.write('BM', 'latin1');
empty.writeUInt32LE(54, 2);
empty.writeUInt32LE(54, 10);
empty.writeUInt32LE(40, 14);
empty.writeUInt16LE(1, 26);
empty.writeUInt16LE(24, 28);

it.each([
  [
    'times a year apart by the thousand',
    manifest({ times: [0, 1e300, 2e300] }),
    /at most 1000000000 seconds, found 3e\+300/,
  ],
  [
    'times closer than any camera takes',
    manifest({ times: [0, 1e-320, 2e-320] }),
    /times: expected at most 1000 frames a second, found/,
  ],
  [
    'a rate of next to nothing',
    manifest({ rate: 1e-15 }),
    /rate: expected a number from 0\.00001 to 1000, found 1e-15/,
  ],
  [
    'a picture of no pixels',
    { 'frames/0.bmp': empty, ...manifest({ rate: 5 }) },
    /0\.bmp \(frame 0.*it is 0x0 pixels/,
  ],
  [
    'a pattern longer than any path',
    manifest({ rate: 5, frames: '*'.repeat(5000) }),
    /frames: expected at most 4096 characters/,
  ],
])('%s is refused', async (_, more, told) => {
  await expect(open(more)).rejects.toMatchObject({ name: 'Problem', message: expect.stringMatching(told) });
});

it('a clip with long gaps says so when it is opened', async () => {
  const times = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 36_000];
  const clip = await openClip(
    await stillsClip(11, { 'clip.json': { version: 1, frames: 'frames/*', times } }),
    {
      cache: await tempCache(),
    },
  );
  expect(clip.warnings).toEqual([
    expect.stringMatching(/: it was without frames for 9:59:50 of its 11:00:00 /),
  ]);
});
