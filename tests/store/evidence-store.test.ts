import { readdir, readFile, rm, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import fc from 'fast-check';
import seedrandom from 'seedrandom';
import { expect, test } from 'vitest';
import { Cache } from '../../src/store/cache.js';
import { DamagedEvidence, type EvidenceRow, EvidenceStore } from '../../src/store/evidence-store.js';
import { tempCache } from '../clip/fixtures.js';

const floor = 3;
const levels = Array.from({ length: 256 - floor }, (_, i) => i + floor);

/** Counts that rise by the given amounts at the given levels, falling from 255. */
function counts(rises: readonly (readonly [number, number])[]): Uint32Array {
  const result = new Uint32Array(256);
  for (const [level, rise] of rises) for (let t = 0; t <= level; t++) result[t]! += rise;
  return result;
}

function randomRows(count: number): EvidenceRow[] {
  const random = seedrandom('rows');
  const draw = () =>
    counts(
      Array.from({ length: Math.floor(random() * 20) }, () => [
        Math.floor(random() * 256),
        Math.floor(random() * 300),
      ]),
    );
  return Array.from({ length: count }, () => ({ changed: draw(), region: draw() }));
}

const rows = randomRows(10);
const state = (frame: number) => Uint8Array.of(frame, 1, 2, 3);

const storeIn = (cache: Cache) => new EvidenceStore(cache, 'key-1', rows.length, floor, 4);

async function fill(store: EvidenceStore, from = 0, to = rows.length): Promise<void> {
  for (let i = from; i < to; i++) {
    await store.append(rows[i]!);
    await store.checkpoint(() => state(i + 1));
  }
}

async function filled(): Promise<{ cache: Cache; store: EvidenceStore; file: (name: string) => string }> {
  const cache = await tempCache();
  const store = storeIn(cache);
  await fill(store);
  return { cache, store, file: (name) => cache.path('evidence', 'key-1', name) };
}

async function expectRows(store: EvidenceStore): Promise<void> {
  for (const kind of ['changed', 'region'] as const) {
    const columns = await store.columns(levels, kind);
    for (const level of levels) expect([...columns.get(level)!]).toEqual(rows.map((row) => row[kind][level]));
  }
}

test('gives back what was put in, at every level', async () => {
  const { store } = await filled();
  expect(await store.complete()).toBe(true);
  await expectRows(store);
});

test('gives both kinds at once as it gives them one by one', async () => {
  const { store } = await filled();
  expect(await store.bothColumns([9, 200, 9])).toEqual({
    region: await store.columns([9, 200], 'region'),
    changed: await store.columns([9, 200], 'changed'),
  });
});

test('gives back any counts that rise as levels fall', async () => {
  const cache = await tempCache();
  const rises = fc.array(fc.tuple(fc.integer({ min: 0, max: 255 }), fc.integer({ min: 0, max: 2 ** 27 })), {
    maxLength: 12,
  });
  const row = fc.record({ changed: rises.map(counts), region: rises.map(counts) });
  await fc.assert(
    fc.asyncProperty(fc.array(row, { minLength: 1, maxLength: 9 }), async (drawn) => {
      const store = new EvidenceStore(cache, 'drawn', drawn.length, floor, 4);
      for (const one of drawn) await store.append(one);
      const regions = await store.columns([255, floor, 40], 'region');
      const changes = await store.columns([7], 'changed');
      for (const level of [255, 40, floor]) {
        expect([...regions.get(level)!]).toEqual(drawn.map((d) => d.region[level]));
      }
      expect([...changes.get(7)!]).toEqual(drawn.map((d) => d.changed[7]));
    }),
    { seed: 2, numRuns: 60 },
  );
});

test('levels outside what is kept are refused', async () => {
  const { store } = await filled();
  for (const level of [floor - 1, 256, 4.5])
    await expect(store.columns([level], 'region')).rejects.toThrow(RangeError);
});

test('an interrupted run goes on from its last whole chunk', async () => {
  const cache = await tempCache();
  await fill(storeIn(cache), 0, 9);
  const again = storeIn(cache);
  expect(await again.complete()).toBe(false);
  expect(await again.resumePoint()).toEqual({ frame: 8, state: state(8) });
  await fill(again, 8);
  expect(await again.complete()).toBe(true);
  await expectRows(again);
});

test('with nothing kept a run starts at frame 0', async () => {
  const store = storeIn(await tempCache());
  expect(await store.resumePoint()).toBeNull();
  await fill(store);
  await expectRows(store);
});

test('the state is asked for at the end of a chunk only, and not kept once all is there', async () => {
  const cache = await tempCache();
  const store = storeIn(cache);
  const asked: number[] = [];
  for (const [i, row] of rows.entries()) {
    await store.append(row);
    await store.checkpoint(() => {
      asked.push(i + 1);
      return state(i + 1);
    });
  }
  expect(asked).toEqual([4, 8]);
  expect(await readdir(cache.path('evidence', 'key-1'))).toEqual([
    'chunk-000000',
    'chunk-000001',
    'chunk-000002',
  ]);
});

test('a damaged newest state leaves the one before it', async () => {
  const cache = await tempCache();
  await fill(storeIn(cache), 0, 9);
  const states = (await readdir(cache.path('evidence', 'key-1'))).filter((name) => name.startsWith('state'));
  const contents = await Promise.all(states.map((name) => readFile(cache.path('evidence', 'key-1', name))));
  const newest = states[contents.findIndex((bytes) => bytes.at(-4) === 8)]!;
  await writeFile(cache.path('evidence', 'key-1', newest), 'x');
  expect(await storeIn(cache).resumePoint()).toEqual({ frame: 4, state: state(4) });
});

test('every flipped bit of a chunk is noticed', async () => {
  const { store, file } = await filled();
  const whole = await readFile(file('chunk-000001'));
  for (let byte = 0; byte < whole.length; byte++) {
    const flipped = Buffer.from(whole);
    flipped[byte]! ^= 1 << (byte % 8);
    await writeFile(file('chunk-000001'), flipped);
    await expect(store.columns([9], 'changed'), `byte ${byte}`).rejects.toThrow(DamagedEvidence);
  }
});

test.each([0, 1, 39, 40, 60])(
  'a chunk cut to %i bytes is noticed, by complete, columns and resumePoint',
  async (n) => {
    const { store, cache, file } = await filled();
    await truncate(file('chunk-000001'), n);
    expect(await store.complete()).toBe(false);
    await expect(store.columns([9], 'region')).rejects.toThrow(DamagedEvidence);
    await expect(store.bothColumns([9])).rejects.toThrow(DamagedEvidence);
    expect(await storeIn(cache).resumePoint()).toBeNull();
  },
);

test('a missing chunk is noticed; after removing the set it can be made again', async () => {
  const { store, file } = await filled();
  await rm(file('chunk-000000'));
  await expect(store.columns([9], 'region')).rejects.toThrow(DamagedEvidence);
  await store.remove();
  await fill(store);
  await expectRows(store);
});

test('evidence of another key, floor or length is not taken for this one', async () => {
  const { cache, file } = await filled();
  expect(await new EvidenceStore(cache, 'key-1', rows.length, floor + 1, 4).complete()).toBe(false);
  expect(await new EvidenceStore(cache, 'key-1', rows.length + 1, floor, 4).complete()).toBe(false);
  await cache.write(['evidence', 'key-2', 'chunk-000000'], await readFile(file('chunk-000000')));
  expect(await new EvidenceStore(cache, 'key-2', 4, floor, 4).complete()).toBe(false);
});

test('two runs at once write the same bytes and do no harm', async () => {
  const cache = await tempCache();
  const [one, two] = [storeIn(cache), storeIn(new Cache(cache.root))];
  await Promise.all([fill(one), fill(two)]);
  await expectRows(one);
  await expectRows(two);
  const folder = cache.path('evidence', 'key-1');
  expect((await readdir(folder)).filter((name) => name.includes('partial'))).toEqual([]);
  const bytes = await readFile(join(folder, 'chunk-000002'));
  const { file } = await filled();
  expect(bytes.equals(await readFile(file('chunk-000002')))).toBe(true);
});

test('a cache that cannot be written warns once and keeps the evidence for this run', async () => {
  const warnings: string[] = [];
  const cache = new Cache('/dev/null/nowhere', (line) => warnings.push(line));
  const store = storeIn(cache);
  await fill(store);
  expect(await store.complete()).toBe(true);
  await expectRows(store);
  expect(warnings).toEqual([expect.stringMatching(/the cache cannot be written/)]);
});
