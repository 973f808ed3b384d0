import { expect, it } from 'vitest';
import { luminance } from '../../../src/engine/luminance.js';
import { yardLabels } from '../yard-clip.js';
import { createYard } from '../yards/yard.js';
import { analysed, clipOf, inFolder } from './drawn.js';
import { cameraOf, quickest } from './watching.js';

it('a lossless yard is read from its clip as it was drawn', async () => {
  const seeds = Array.from({ length: 20 }, (_, i) => `build-${i}`);
  const yard = seeds.map((seed) => createYard(seed, { seconds: 2 })).find(({ form }) => form.kind === 'png')!;
  const day = { wind: 3, rain: 0, light: yard.daylight };
  const { width, height } = yard.view;
  const drawn = Array.from(yard.draw(day), (y) => luminance(y, 1, width, height, 160, 120).slice());
  const read = await inFolder(async (folder) => {
    const clip = await clipOf(yard, day, folder, true);
    expect(clip.manifest.conditions).toEqual(day);
    expect(clip.labels?.foliage?.length).toBe(yardLabels(yard, true).foliage?.length);
    const frames: Uint8Array[] = [];
    for await (const y of analysed(clip, cameraOf(yard))) frames.push(y.slice());
    return frames;
  });
  expect(read).toEqual(drawn);
});

it('compares every threshold with every area', () => {
  expect(quickest.length).toBe(60);
});
