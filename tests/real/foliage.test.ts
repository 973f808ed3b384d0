/** Where foliage is found in data/tree.avi and data/vtest.avi of opencv-doc, a Debian package: leaves, and people on paving. */
import { copyFile, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { openClip } from '../../src/clip/open.js';
import { foliageOf } from '../../src/measure/weather/foliage.js';
import { Cache } from '../../src/store/cache.js';
import { findFootage } from './footage.js';

const found = await findFootage();
const folders: string[] = [];
afterAll(async () => {
  for (const folder of folders) await rm(folder, { recursive: true, force: true });
});

async function mapOf(video: string, name: string) {
  const dir = await mkdtemp(join(tmpdir(), 'foliage-'));
  folders.push(dir);
  await copyFile(video, join(dir, name));
  await writeFile(join(dir, 'clip.json'), JSON.stringify({ version: 1, frames: name }));
  const clip = await openClip(dir, { cache: new Cache(join(dir, 'cache')) });
  return foliageOf(clip, 320, 240);
}

function share(map: Uint8Array, left: number, right: number): number {
  let [sum, n] = [0, 0];
  map.forEach((value, i) => {
    const x = (i % 320) / 320;
    if (x < left || x >= right) return;
    sum += value / 255;
    n++;
  });
  return sum / n;
}

describe.skipIf('missing' in found)('foliage in real footage', () => {
  if ('missing' in found) return;

  it('is the tree of tree.avi', async () => {
    const { map, defaults } = await mapOf(found.tree, 'tree.avi');
    expect(share(map, 0.15, 0.7)).toBeGreaterThan(0.8);
    expect(defaults).toEqual([expect.stringMatching(/found where leaves sway/)]);
  }, 60_000);

  it('is neither the people nor the paving and lawn of vtest.avi', async () => {
    const { map, defaults } = await mapOf(found.people, 'vtest.avi');
    expect(share(map, 0, 1)).toBe(0);
    expect(defaults).toEqual([expect.stringMatching(/no sway is simulated/)]);
  }, 60_000);
});
