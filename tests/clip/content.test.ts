import { readdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { contentKey } from '../../src/clip/content.js';
import { tempCache, tempDir, writeFiles } from './fixtures.js';

const keyOf = async (...contents: string[]): Promise<string> => {
  const dir = await tempDir();
  await writeFiles(dir, Object.fromEntries(contents.map((text, i) => [`${i}`, text])));
  return contentKey(contents.length, (i) => join(dir, `${i}`), { cache: await tempCache() });
};

test('files cut at another place are other content', async () => {
  expect(await keyOf('ab', 'c')).not.toBe(await keyOf('a', 'bc'));
});

test('a damaged entry is not believed', async () => {
  const dir = await tempDir();
  await writeFiles(dir, { 0: 'wren' });
  const cache = await tempCache();
  const key = () => contentKey(1, () => join(dir, '0'), { cache });
  const first = await key();
  const [entry] = await readdir(cache.path('content'));
  await writeFile(cache.path('content', entry!), 'half of a k');
  expect(await key()).toBe(first);
});

test('a missing file is named', async () => {
  const key = contentKey(1, () => '/nowhere/1.jpg', { cache: await tempCache() });
  await expect(key).rejects.toMatchObject({
    code: 'file-missing',
    message: '/nowhere/1.jpg: there is no such file; expected a file of the recording',
  });
});
