import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { writeAtomic } from '../../src/files/atomic.js';
import { makeFolderAtomically } from '../../src/files/folder.js';
import { cleanUpNow } from '../../src/files/partial.js';
import { Cache } from '../../src/store/cache.js';
import { tempDir } from '../clip/fixtures.js';

test('writes a file whole and leaves nothing beside it', async () => {
  const dir = await tempDir();
  await writeAtomic(join(dir, 'a.txt'), 'old');
  await writeAtomic(join(dir, 'a.txt'), Buffer.from('new'));
  expect(await readFile(join(dir, 'a.txt'), 'utf8')).toBe('new');
  expect(await readdir(dir)).toEqual(['a.txt']);
});

test('a place that cannot be written is a Problem, and nothing is left', async () => {
  const dir = await tempDir();
  await mkdir(join(dir, 'taken'));
  await writeFile(join(dir, 'taken/x'), '');
  for (const file of [join(dir, 'taken'), join(dir, 'no/such/a.txt')]) {
    await expect(writeAtomic(file, 'x')).rejects.toMatchObject({ name: 'Problem', code: 'file-unwritable' });
  }
  expect(await readdir(dir)).toEqual(['taken']);
});

test('a folder appears whole, also in the place of an empty one and below new parents', async () => {
  const dir = await tempDir();
  await mkdir(join(dir, 'empty'));
  for (const target of [join(dir, 'empty'), join(dir, 'new/deep')]) {
    await makeFolderAtomically(target, async (folder) => {
      expect(await readdir(target).catch(() => [])).toEqual([]);
      await folder.write('x', '1');
    });
    expect(await readdir(target)).toEqual(['x']);
  }
  expect((await readdir(dir)).sort()).toEqual(['empty', 'new']);
});

test('a folder whose making fails never was, nor its parents', async () => {
  const dir = await tempDir();
  const failing = makeFolderAtomically(join(dir, 'new/deep'), async (folder) => {
    await folder.write('x', '1');
    throw new Error('stop');
  });
  await expect(failing).rejects.toThrow('stop');
  expect(await readdir(dir)).toEqual([]);
});

test('a folder that holds something, or a file in its place, is left alone', async () => {
  const dir = await tempDir();
  await writeFile(join(dir, 'file'), 'mine');
  const make = (target: string) => makeFolderAtomically(target, async () => undefined);
  await expect(make(dir)).rejects.toThrow(/already holds 1 entry/);
  await expect(make(join(dir, 'file'))).rejects.toThrow(/a file is in the way/);
  expect(await readFile(join(dir, 'file'), 'utf8')).toBe('mine');
});

test('cleanUpNow removes what is unfinished', async () => {
  const dir = await tempDir();
  const gone = makeFolderAtomically(join(dir, 'clip'), async () => cleanUpNow());
  await expect(gone).rejects.toMatchObject({ code: 'file-unwritable' });
  expect(await readdir(dir)).toEqual([]);
});

test('the cache is where the environment says', () => {
  try {
    vi.stubEnv('PERCHMARK_CACHE', '/somewhere/own');
    vi.stubEnv('XDG_CACHE_HOME', '/somewhere/shared');
    expect(new Cache().root).toBe('/somewhere/own');
    vi.stubEnv('PERCHMARK_CACHE', undefined);
    expect(new Cache().root).toBe('/somewhere/shared/perchmark');
  } finally {
    vi.unstubAllEnvs();
  }
});
