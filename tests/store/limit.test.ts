import { stat, utimes } from 'node:fs/promises';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { kept } from '../../src/jobs/kept.js';
import { Cache } from '../../src/store/cache.js';
import { EvidenceStore } from '../../src/store/evidence-store.js';
import { inventory } from '../../src/store/inventory.js';
import { isWeighingDue, keepWithin, limitOf, setLimit, USUAL_LIMIT } from '../../src/store/limit.js';
import { readSealed, writeSealed } from '../../src/store/sealed.js';
import { tempCache } from '../clip/fixtures.js';

const HOUR = 3_600_000;

/** An entry of so many bytes, last used so many hours ago. */
async function keep(cache: Cache, names: string[], bytes: number, hoursAgo: number): Promise<void> {
  await cache.write(names, Buffer.alloc(bytes));
  const top = cache.path(...names.slice(0, names[0] === 'probe' ? 3 : 2));
  const at = new Date(Date.now() - hoursAgo * HOUR);
  await utimes(top, at, at);
}

const left = async (cache: Cache) => (await inventory(cache.root)).map(({ names }) => names.join('/')).sort();

afterEach(() => vi.useRealTimers());

describe('what is kept', () => {
  test('is counted by entries, a set of evidence being one', async () => {
    const cache = await tempCache();
    await keep(cache, ['evidence', 'a', 'chunk-0'], 100, 3);
    await keep(cache, ['evidence', 'a', 'chunk-1'], 50, 3);
    await keep(cache, ['probe', 'v3', 'b'], 20, 3);
    const entries = await inventory(cache.root);
    expect(entries.map(({ kind, names, bytes }) => [kind, names.join('/'), bytes]).sort()).toEqual([
      ['evidence', 'evidence/a', 150],
      ['probe', 'probe/v3/b', 20],
    ]);
  });

  test('stays while it is within the limit', async () => {
    const cache = await tempCache();
    await keep(cache, ['evidence', 'a', 'chunk-0'], 100, 3);
    expect(await keepWithin(cache, 100)).toEqual([]);
    expect(await left(cache)).toEqual(['evidence/a']);
  });

  test('makes room by what was not used for longest, to a tenth below the limit', async () => {
    const cache = await tempCache();
    await keep(cache, ['evidence', 'oldest', 'chunk-0'], 40, 9);
    await keep(cache, ['looks', 'older'], 40, 8);
    await keep(cache, ['evidence', 'newer', 'chunk-0'], 40, 7);
    await keep(cache, ['probe', 'v3', 'newest'], 40, 6);
    const removed = await keepWithin(cache, 130);
    expect(removed.map(({ names }) => names.join('/'))).toEqual(['evidence/oldest', 'looks/older']);
    expect(await left(cache)).toEqual(['evidence/newer', 'probe/v3/newest']);
  });

  test('stays where it was used in the last hour, whatever the limit', async () => {
    const cache = await tempCache();
    await keep(cache, ['evidence', 'a', 'chunk-0'], 100, 0.5);
    expect(await keepWithin(cache, 10)).toEqual([]);
  });

  test('counts as used when it is read', async () => {
    const cache = await tempCache();
    await writeSealed(cache, ['looks', 'x'], Buffer.from('seen'));
    const store = new EvidenceStore(cache, 'set', 1, 1);
    await store.append({ changed: new Uint32Array(256), region: new Uint32Array(256) });
    const longAgo = new Date(Date.now() - 50 * HOUR);
    for (const path of [cache.path('looks', 'x'), cache.path('evidence', 'set')]) {
      await utimes(path, longAgo, longAgo);
    }
    const later = new Cache(cache.root);
    await readSealed(later, ['looks', 'x']);
    await new EvidenceStore(later, 'set', 1, 1).complete();
    for (const path of [cache.path('looks', 'x'), cache.path('evidence', 'set')]) {
      expect(Date.now() - (await stat(path)).mtimeMs).toBeLessThan(HOUR);
    }
  });

  test('stays for a run that reads it for hours, while what only stood by goes', async () => {
    const cache = await tempCache();
    const start = Date.now();
    vi.useFakeTimers({ toFake: ['Date'], now: start });
    await keep(cache, ['evidence', 'read', 'chunk-0'], 100, 3);
    await keep(cache, ['evidence', 'idle', 'chunk-0'], 100, 1);
    for (let minutes = 0; minutes <= 150; minutes += 30) {
      vi.setSystemTime(start + minutes * 60_000);
      await cache.read(['evidence', 'read', 'chunk-0']);
    }
    await keepWithin(cache, 10);
    expect(await left(cache)).toEqual(['evidence/read']);
  });

  test('the owner sets the limit, and damage to it brings the usual one', async () => {
    const cache = await tempCache();
    expect(await limitOf(cache)).toBe(USUAL_LIMIT);
    await setLimit(cache, 5e9);
    expect(await limitOf(cache)).toBe(5e9);
    await cache.write(['limit'], Buffer.from('{"bytes":"much"}'));
    expect(await limitOf(cache)).toBe(USUAL_LIMIT);
  });

  test('is weighed at once where it never was, and again after a day', async () => {
    const cache = await tempCache();
    expect(await isWeighingDue(cache)).toBe(true);
    await keepWithin(cache, 100);
    expect(await isWeighingDue(cache)).toBe(false);
    expect(await isWeighingDue(cache, Date.now() + 25 * HOUR)).toBe(true);
  });

  test('is cleared on demand, but not what cannot be made again', async () => {
    const cache = await tempCache();
    await keep(cache, ['evidence', 'a', 'chunk-0'], 100, 0);
    await writeSealed(cache, ['made', 'x'], Buffer.from('a file of the owner'));
    const result = await kept({ clear: true, limit: 3e9 }, { cache });
    expect(result).toMatchObject({ bytes: 0, limit: 3e9, removed: 100 });
    expect((await readSealed(cache, ['made', 'x']))?.toString()).toBe('a file of the owner');
  });
});
