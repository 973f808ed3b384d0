import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { type ChangeMaps, ChangeMapWriter } from '../../../src/diagnose/cures/change-maps.js';
import { Cache } from '../../../src/store/cache.js';

const folder = mkdtempSync(join(tmpdir(), 'change-maps-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** 80 frames of 701 by 333 pixels: so many that they are not kept together. */
const [width, height, level] = [701, 333, 12];
const frames = Array.from({ length: 80 }, (_, k) => ({
  place: 3 * k + 1,
  difference: Uint8Array.from({ length: width * height }, (_, i) => (i * (k + 7)) % (k + 5)),
}));

const asText = (changed: Uint8Array) => Buffer.from(changed).toString('latin1');

async function kept(maps: ChangeMaps) {
  const all: { place: number; changed: string }[] = [];
  for await (const { place, changed } of maps.read()) all.push({ place, changed: asText(changed) });
  return all;
}
const expected = frames.map(({ place, difference }) => ({
  place,
  changed: asText(difference.map((d) => (d >= level ? 1 : 0))),
}));

async function writer(cache: Cache, memory?: number) {
  const maps = new ChangeMapWriter(width, height, level, cache, memory);
  for (const { place, difference } of frames) await maps.append(place, difference);
  return maps;
}

describe('change maps', () => {
  it('come back as they were taken, as often as they are read', async () => {
    const maps = await (await writer(new Cache(join(folder, 'memory')))).finish();
    expect(maps.places).toEqual(frames.map((f) => f.place));
    expect(await kept(maps)).toEqual(expected);
    expect(await kept(maps)).toEqual(expected);
  });

  it('come back from a file where there are too many to hold, and leave none behind', async () => {
    const cache = new Cache(join(folder, 'file'));
    const written = await writer(cache, 0);
    const maps = await written.finish();
    expect(await kept(maps)).toEqual(expected);
    expect(readdirSync(cache.path('unfinished'))).toEqual([]);
    await written.dispose();
  });

  it('stay in memory where no file can be made', async () => {
    writeFileSync(join(folder, 'not-a-folder'), '');
    const maps = await (await writer(new Cache(join(folder, 'not-a-folder')), 0)).finish();
    expect(await kept(maps)).toEqual(expected);
  });

  it('hold no map where no frame was taken', async () => {
    const maps = await new ChangeMapWriter(width, height, level, new Cache(folder)).finish();
    expect(maps.places).toEqual([]);
    expect(await kept(maps)).toEqual([]);
  });

  it('take a difference in before append returns', async () => {
    const maps = new ChangeMapWriter(width, height, level, new Cache(folder));
    const same = new Uint8Array(width * height);
    const waits = frames.map(({ place, difference }) => {
      same.set(difference);
      return maps.append(place, same);
    });
    await Promise.all(waits);
    expect(await kept(await maps.finish())).toEqual(expected);
  });
});
