import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { cleanUpNow, makeFolderAtomically, writeAtomic } from '../../src/files/atomic.js';
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
    await makeFolderAtomically(target, async (partial) => {
      expect(await readdir(target).catch(() => [])).toEqual([]);
      await writeFile(join(partial, 'x'), '1');
    });
    expect(await readdir(target)).toEqual(['x']);
  }
  expect((await readdir(dir)).sort()).toEqual(['empty', 'new']);
});

test('a folder whose making fails never was, nor its parents', async () => {
  const dir = await tempDir();
  const failing = makeFolderAtomically(join(dir, 'new/deep'), async (partial) => {
    await writeFile(join(partial, 'x'), '1');
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

/** What a signal does to an unfinished folder, and whether it is sent on to end the process. */
async function onSignal(others: number): Promise<{ left: string[]; sentOn: unknown[][] }> {
  const dir = await tempDir();
  const listeners = process.listeners('SIGTERM');
  process.removeAllListeners('SIGTERM');
  const kill = vi.spyOn(process, 'kill').mockReturnValue(true);
  let left: string[] = [];
  try {
    for (let i = 0; i < others; i++) process.on('SIGTERM', () => undefined);
    const making = makeFolderAtomically(join(dir, 'clip'), async () => {
      process.emit('SIGTERM', 'SIGTERM');
      left = await readdir(dir);
    });
    await making.catch(() => undefined);
    return { left, sentOn: kill.mock.calls };
  } finally {
    kill.mockRestore();
    process.removeAllListeners('SIGTERM');
    for (const listener of listeners) process.on('SIGTERM', listener);
  }
}

test('a signal that nobody else handles removes what is unfinished and ends the process', async () => {
  const { left, sentOn } = await onSignal(0);
  expect(left).toEqual([]);
  expect(sentOn).toEqual([[process.pid, 'SIGTERM']]);
});

test('a signal that others handle is left to them', async () => {
  const { left, sentOn } = await onSignal(1);
  expect(left).toHaveLength(1);
  expect(sentOn).toEqual([]);
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
