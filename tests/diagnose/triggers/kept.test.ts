import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { defaultCamera } from '../../../src/camera/default.js';
import { ChangeMapWriter, mapsFrom } from '../../../src/diagnose/cures/change-maps.js';
import type { ReplayedClip } from '../../../src/diagnose/replayed-clip.js';
import { entryOf, type Found, keep, readKept } from '../../../src/diagnose/triggers/kept.js';
import { Cache } from '../../../src/store/cache.js';

const cache = new Cache(mkdtempSync(join(tmpdir(), 'kept-')));
afterAll(() => rmSync(cache.root, { recursive: true }));

const found: Found = {
  triggers: [],
  places: { columns: 2, rows: 1, explained: [3, 0], animals: [0, 1] },
  byLuck: [4],
};
const [width, height] = [31, 7];
const frames = [5, 6, 9].map((place) => ({
  place,
  difference: Uint8Array.from({ length: width * height }, (_, i) => (i * place) % 40),
}));

async function packed() {
  const writer = new ChangeMapWriter(width, height, 20, cache);
  for (const { place, difference } of frames) await writer.append(place, difference);
  await writer.finish();
  return writer.packedMaps;
}

const plain = {
  clip: { contentKey: 'abc', labels: { version: 1, visits: [{ start: 1, end: 2, type: 'animal' }] } },
  camera: defaultCamera,
  settings: {
    threshold: 20,
    minimumArea: 50,
    mostChanged: 76_800,
    persistence: 1,
    cooldown: 2,
    warnings: ['any'],
  },
  polygons: [],
  judged: { triggers: [], visits: [], counts: null },
  times: Float64Array.of(0, 0.2),
} as unknown as ReplayedClip;

describe('what a diagnosis keeps between runs', () => {
  test('comes back as it was, maps and all', async () => {
    await keep(cache, ['looks', 'whole'], found, await packed());
    const kept = await readKept(cache, ['looks', 'whole']);
    expect(kept?.found).toEqual(found);
    const read: { place: number; changed: number[] }[] = [];
    for await (const { place, changed } of mapsFrom(kept!.maps!).read())
      read.push({ place, changed: [...changed] });
    expect(read).toEqual(
      frames.map(({ place, difference }) => ({
        place,
        changed: [...difference].map((d) => (d >= 20 ? 1 : 0)),
      })),
    );
  });

  test('may have no maps', async () => {
    await keep(cache, ['looks', 'bare'], found, null);
    expect(await readKept(cache, ['looks', 'bare'])).toEqual({ found, maps: null });
  });

  test.each([0, 40, -1])('is not used with a bit turned at byte %i', async (place) => {
    await keep(cache, ['looks', 'damaged'], found, await packed());
    const file = cache.path('looks', 'damaged');
    const bytes = readFileSync(file);
    const at = place < 0 ? bytes.length + place : place;
    bytes[at] = bytes[at]! ^ 4;
    writeFileSync(file, bytes);
    expect(await readKept(cache, ['looks', 'damaged'])).toBeNull();
  });

  test('is not used cut short, and there is none where nothing was kept', async () => {
    await keep(cache, ['looks', 'short'], found, null);
    const file = cache.path('looks', 'short');
    writeFileSync(file, readFileSync(file).subarray(0, 20));
    expect(await readKept(cache, ['looks', 'short'])).toBeNull();
    expect(await readKept(cache, ['looks', 'never'])).toBeNull();
  });

  test.each<[string, Partial<Record<keyof ReplayedClip, unknown>>]>([
    ['the recording', { clip: { ...plain.clip, contentKey: 'abd' } }],
    [
      'a box of the labels',
      {
        clip: {
          ...plain.clip,
          labels: { version: 1, visits: [{ start: 1, end: 2, type: 'animal', box: [0, 0, 1, 1] }] },
        },
      },
    ],
    ['the camera', { camera: { ...defaultCamera, area: 'changed' } }],
    ['the settings', { settings: { ...plain.settings, threshold: 21 } }],
    [
      'the mask',
      {
        polygons: [
          [
            [0, 0],
            [1, 0],
            [1, 1],
          ],
        ],
      },
    ],
    ['the times', { times: Float64Array.of(0, 0.25) }],
  ])('goes by %s', (_, change) => {
    expect(entryOf({ ...plain, ...change } as ReplayedClip)).not.toEqual(entryOf(plain));
  });

  test('does not go by warnings', () => {
    const settings = { ...plain.settings, warnings: [] };
    expect(entryOf({ ...plain, settings })).toEqual(entryOf(plain));
  });
});
