import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { openCache } from '../../src/jobs/ports.js';
import { Cache } from '../../src/store/cache.js';
import { readSealed, writeSealed } from '../../src/store/sealed.js';
import { tempDir } from '../clip/fixtures.js';
import { smallDisk } from '../support/disk.js';

const entry = ['evidence', 'set', 'chunk-000000'];
const bytes = Buffer.from('what is kept');

/** A folder in which something is kept, and a cache that stands in for it. */
async function standIn() {
  const root = await tempDir();
  await new Cache(root).write(entry, bytes);
  return { root, cache: new Cache(await tempDir(), () => undefined, root) };
}

describe('what stands in for a cache that cannot be written', () => {
  it('reads what is kept there, all of it and its head', async () => {
    const { cache } = await standIn();
    expect(await cache.read(entry)).toEqual(bytes);
    expect(await cache.head(entry, 4)).toEqual({ bytes: bytes.subarray(0, 4), size: bytes.length });
  });

  it('reads what was written since, and leaves the other as it is', async () => {
    const { root, cache } = await standIn();
    await cache.write(entry, Buffer.from('newer'));
    expect(await cache.read(entry)).toEqual(Buffer.from('newer'));
    expect(readFileSync(join(root, ...entry))).toEqual(bytes);
  });

  it.each([
    ['it alone', entry],
    ['all below it', entry.slice(0, 2)],
  ])('has nothing any more of what was removed, %s, and leaves the other as it is', async (_, removed) => {
    const { root, cache } = await standIn();
    await cache.remove(removed);
    expect(await cache.read(entry)).toBeNull();
    expect(await cache.head(entry, 4)).toBeNull();
    expect(existsSync(join(root, ...entry))).toBe(true);
    await cache.write(entry, Buffer.from('again'));
    expect(await cache.read(entry)).toEqual(Buffer.from('again'));
  });

  it('makes again what is damaged there', async () => {
    const { root, cache } = await standIn();
    mkdirSync(dirname(join(root, 'made', 'a')), { recursive: true });
    writeFileSync(join(root, 'made', 'a'), 'damaged');
    expect(await readSealed(cache, ['made', 'a'])).toBeNull();
    await writeSealed(cache, ['made', 'a'], bytes);
    expect(await readSealed(cache, ['made', 'a'])).toEqual(bytes);
  });
});

const disk = smallDisk('128k');

it.skipIf(disk.path === null)(
  `a cache on a disk that can only be read is read, and that is said once ${disk.why ?? ''}`,
  async () => {
    const root = join(disk.path!, 'cache');
    await new Cache(root).write(entry, bytes);
    execFileSync('mount', ['-o', 'remount,ro', disk.path!]);
    vi.stubEnv('PERCHMARK_CACHE', root);
    try {
      const said: string[] = [];
      const cache = await openCache((line) => said.push(line));
      expect(await cache.read(entry)).toEqual(bytes);
      await cache.write(['evidence', 'other', 'chunk-000000'], bytes);
      expect(await cache.read(['evidence', 'other', 'chunk-000000'])).toEqual(bytes);
      expect(said).toEqual([
        expect.stringMatching(/cache: cannot be written, so what is kept there is read, /),
      ]);
    } finally {
      vi.unstubAllEnvs();
    }
  },
);
