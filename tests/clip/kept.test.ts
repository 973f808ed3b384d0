import { readdir, readFile, writeFile } from 'node:fs/promises';
import { expect, test } from 'vitest';
import { openClip } from '../../src/clip/open.js';
import type { Cache } from '../../src/store/cache.js';
import { encode, scene, stillsClip, tempCache } from './fixtures.js';

/** A folder of stills whose times stand in their EXIF, opened once, so that all is kept that is kept of it. */
async function openedClip(): Promise<{ dir: string; cache: Cache }> {
  const files: Record<string, object | string> = {
    'clip.json': { version: 1, frames: '*.jpg', times: 'exif' },
  };
  for (const [i, second] of ['00', '01', '03'].entries()) {
    const exif = { IFD2: { DateTimeOriginal: `2026:05:04 06:10:${second}`, SubSecTimeOriginal: '50' } };
    files[`${i}.jpg`] = await encode(scene(32, 24), 32, 24).withExif(exif).jpeg().toBuffer();
  }
  const dir = await stillsClip(0, files);
  const cache = await tempCache();
  await openClip(dir, { cache });
  return { dir, cache };
}

test.each(['stamps', 'content'])('a bit turned anywhere in kept %s changes nothing', async (kind) => {
  const { dir, cache } = await openedClip();
  const known = await openClip(dir, { cache });
  expect([...known.times]).toEqual([0, 1, 3]);
  const [name] = await readdir(cache.path(kind));
  const file = cache.path(kind, name!);
  const whole = await readFile(file);
  for (let byte = 0; byte < whole.length; byte++) {
    const flipped = Buffer.from(whole);
    flipped[byte]! ^= 1 << (byte % 8);
    await writeFile(file, flipped);
    const clip = await openClip(dir, { cache });
    expect({ byte, times: [...clip.times], key: clip.contentKey }).toEqual({
      byte,
      times: [0, 1, 3],
      key: known.contentKey,
    });
    expect((await readFile(file)).equals(whole)).toBe(true);
  }
});
