import { readFile, writeFile } from 'node:fs/promises';
import { expect, test } from 'vitest';
import { readSealed, writeSealed } from '../../src/store/sealed.js';
import { tempCache } from '../clip/fixtures.js';

const entry = ['kind', 'name'];
const body = Buffer.from('blackbird, wren');

async function kept() {
  const cache = await tempCache();
  await writeSealed(cache, entry, body);
  const file = cache.path(...entry);
  return { cache, file, whole: await readFile(file) };
}

test('gives back what was kept, and nothing where nothing was', async () => {
  const { cache } = await kept();
  expect(await readSealed(cache, entry)).toEqual(body);
  expect(await readSealed(cache, ['kind', 'other'])).toBeNull();
  await writeSealed(cache, ['kind', 'empty'], new Uint8Array(0));
  expect(await readSealed(cache, ['kind', 'empty'])).toHaveLength(0);
});

test('every flipped bit is noticed', async () => {
  const { cache, file, whole } = await kept();
  for (let bit = 0; bit < 8 * whole.length; bit++) {
    const flipped = Buffer.from(whole);
    flipped[bit >> 3]! ^= 1 << (bit & 7);
    await writeFile(file, flipped);
    expect(await readSealed(cache, entry), `bit ${bit}`).toBeNull();
  }
});

test('every cut, bytes too many and zeros are noticed', async () => {
  const { cache, file, whole } = await kept();
  for (let length = 0; length < whole.length; length++) {
    await writeFile(file, whole.subarray(0, length));
    expect(await readSealed(cache, entry), `${length} bytes`).toBeNull();
  }
  for (const damaged of [Buffer.concat([whole, Buffer.alloc(1)]), Buffer.alloc(whole.length)]) {
    await writeFile(file, damaged);
    expect(await readSealed(cache, entry)).toBeNull();
  }
});

test('what was kept under another name is not taken for this', async () => {
  const { cache, whole } = await kept();
  await cache.write(['kind', 'other'], whole);
  expect(await readSealed(cache, ['kind', 'other'])).toBeNull();
});
