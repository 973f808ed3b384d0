import { symlink } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { findStills, naturalOrder } from '../../src/clip/pattern.js';
import { tempDir, writeFiles } from './fixtures.js';

const folderWith = async (...names: string[]): Promise<string> => {
  const dir = await tempDir();
  await writeFiles(dir, Object.fromEntries(names.map((name) => [name, 'x'])));
  return dir;
};

test('sorts numbers by value', async () => {
  const dir = await folderWith('frames/f10.jpg', 'frames/f9.jpg', 'frames/f100.jpg', 'frames/f009b.jpg');
  const { names } = await findStills(dir, 'frames/*.jpg');
  expect(names).toEqual(['f9.jpg', 'f009b.jpg', 'f10.jpg', 'f100.jpg']);
});

test('sorts numbers too long for a double exactly', () => {
  expect(naturalOrder('a12345678901234567891', 'a12345678901234567890')).toBeGreaterThan(0);
});

test('natural order is a total order', () => {
  const name = fc.string({ unit: fc.constantFrom('0', '1', '9', 'a', '_'), maxLength: 6 });
  fc.assert(
    fc.property(name, name, name, (a, b, c) => {
      expect(Math.sign(naturalOrder(a, b))).toBe(0 - Math.sign(naturalOrder(b, a)));
      expect(naturalOrder(a, b) === 0).toBe(a === b);
      if (naturalOrder(a, b) <= 0 && naturalOrder(b, c) <= 0)
        expect(naturalOrder(a, c)).toBeLessThanOrEqual(0);
    }),
    { seed: 1, numRuns: 2000 },
  );
});

test('understands ? as one character and leaves hidden files out', async () => {
  const dir = await folderWith('a1.png', 'a22.png', '.a1.png', 'b1.png');
  expect((await findStills(dir, 'a?.png')).names).toEqual(['a1.png']);
  expect((await findStills(dir, '*1.png')).names).toEqual(['a1.png', 'b1.png']);
});

test('takes brackets and dots of a pattern as they are', async () => {
  const dir = await folderWith('a[1].png', 'a1.png', 'a[1]xpng');
  expect((await findStills(dir, 'a[1]*.png')).names).toEqual(['a[1].png']);
});

test('says which endings are there when nothing matches', async () => {
  const dir = await folderWith('frames/1.JPG', 'frames/2.JPG');
  await expect(findStills(dir, 'frames/*.jpg')).rejects.toThrow(
    /matches no file; 2 files end in \.JPG: write "frames\/\*\.JPG"/,
  );
});

test('hints at the still that was meant', async () => {
  const dir = await folderWith('dawn.jpg');
  await expect(findStills(dir, 'dwan.jpg')).rejects.toThrow(/did you mean 'dawn\.jpg'/);
});

test('a name that begins as a drive does is refused for what it is', async () => {
  await expect(findStills(await tempDir(), 'a:*.jpg')).rejects.toMatchObject({
    code: 'bad-field',
    message: expect.stringMatching(
      /frames: "a:\*\.jpg" begins as a place on another disk does on some systems/,
    ),
  });
});

test.each(['../other/*.jpg', '/etc/*.jpg', 'frames/../../*.jpg', 'C:\\stills\\*.jpg', 'C:/stills/*.jpg'])(
  'refuses %s, which leaves the clip folder',
  async (pattern) => {
    const dir = await folderWith('frames/1.jpg');
    await expect(findStills(dir, pattern)).rejects.toMatchObject({ code: 'leaves-folder' });
  },
);

test('refuses a linked folder outside the clip, and takes one inside', async () => {
  const elsewhere = await folderWith('1.jpg');
  const dir = await folderWith('frames/1.jpg');
  await symlink(elsewhere, join(dir, 'out'));
  await symlink(join(dir, 'frames'), join(dir, 'in'));
  await expect(findStills(dir, 'out/*.jpg')).rejects.toMatchObject({ code: 'leaves-folder' });
  expect((await findStills(dir, 'in/*.jpg')).names).toEqual(['1.jpg']);
});

test('refuses patterns in the folder part', async () => {
  const dir = await folderWith('frames/1.jpg');
  await expect(findStills(dir, 'fr*/1.jpg')).rejects.toThrow(/understood in the file name only/);
});
