import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { describe, expect, it, test } from 'vitest';
import { partialIn } from '../../src/files/partial.js';
import { Cache } from '../../src/store/cache.js';
import { tempCache, tempDir } from '../clip/fixtures.js';
import { smallDisk } from '../support/disk.js';

const entry = ['kind', 'set', 'entry'];
const bytes = Buffer.from('what is kept');
const disk = smallDisk('128k');

describe('an entry is written', () => {
  it.each<[string, (cache: Cache, file: string) => void]>([
    ['where there is no cache yet', ({ root }) => rmSync(root, { recursive: true })],
    ['over an older one', (_, file) => writeFileSync(file, 'older')],
    ['in the place of a pipe', (_, file) => execFileSync('mkfifo', [file])],
    ['in the place of a folder', (_, file) => mkdirSync(join(file, 'with', 'things'), { recursive: true })],
    ['in the place of a link to itself', (_, file) => symlinkSync(file, file)],
    [
      'below a file that stands for its folder',
      (_, file) => {
        rmSync(dirname(file), { recursive: true });
        writeFileSync(dirname(file), 'no folder');
      },
    ],
    [
      'below a file that stands further up',
      ({ root }) => {
        rmSync(join(root, 'kind'), { recursive: true });
        writeFileSync(join(root, 'kind'), 'no folder');
      },
    ],
    [
      'where the place for what is unfinished is a file',
      ({ root }) => writeFileSync(join(root, 'unfinished'), ''),
    ],
  ])('%s', async (_, prepare) => {
    const cache = await tempCache();
    await mkdir(dirname(cache.path(...entry)), { recursive: true });
    prepare(cache, cache.path(...entry));
    await cache.write(entry, bytes);
    expect(await new Cache(cache.root).read(entry)).toEqual(bytes);
    expect(readdirSync(cache.path('unfinished'))).toEqual([]);
  });
});

test('what a killed run left unfinished is swept, what others work on is not', async () => {
  const cache = await tempCache();
  const { pid } = spawnSync('true');
  const left: string[] = [];
  for (const folder of ['unfinished', 'scenes']) {
    mkdirSync(cache.path(folder));
    const living = partialIn(cache.path(folder), 'drawing');
    const dead = living.replace(`.${process.pid}.`, `.${pid}.`);
    for (const path of [living, dead]) mkdirSync(join(path, 'frames'), { recursive: true });
    left.push(living);
    await cache.sweep();
    expect(existsSync(dead)).toBe(false);
  }
  expect(left.every((path) => existsSync(path))).toBe(true);
});

test('a pipe in the place of an entry is none, and is not waited for', async () => {
  const cache = await tempCache();
  await mkdir(dirname(cache.path(...entry)), { recursive: true });
  execFileSync('mkfifo', [cache.path(...entry)]);
  expect(await cache.read(entry)).toBeNull();
  expect(await cache.head(entry, 4)).toBeNull();
});

test('a cache in memory keeps what it is given and writes nothing', async () => {
  const cache = Cache.inMemory();
  await cache.write(entry, bytes);
  expect(await cache.read(entry)).toEqual(bytes);
  expect(await cache.head(entry, 4)).toEqual({ bytes: bytes.subarray(0, 4), size: bytes.length });
  await cache.remove(['kind']);
  expect(await cache.read(entry)).toBeNull();
  expect(existsSync('kind')).toBe(false);
});

test.skipIf(disk.why)(`on a full disk it warns once and goes on from memory ${disk.why ?? ''}`, async () => {
  const warnings: string[] = [];
  const cache = new Cache(join(disk.path!, 'cache'), (line) => warnings.push(line));
  const large = Buffer.alloc(50_000, 'x');
  const names = ['a', 'b', 'c', 'd', 'e'];
  for (const name of names) await cache.write(['kind', name], large);
  for (const name of names) expect(await cache.read(['kind', name])).toEqual(large);
  expect(warnings).toEqual([expect.stringMatching(/cannot be written.*no space left/)]);
  expect(readdirSync(cache.path('unfinished'))).toEqual([]);
});

test('of two at once that write the same entry neither fails', async () => {
  const root = await tempDir();
  const caches = Array.from({ length: 8 }, () => new Cache(root, (line) => expect.fail(line)));
  await Promise.all(caches.map((cache) => cache.write(entry, bytes)));
  expect(await caches[0]!.read(entry)).toEqual(bytes);
});
