import { expect, it } from 'vitest';
import { needLabels } from '../../src/clip/labelled.js';
import { openClip } from '../../src/clip/open.js';
import { foundIn } from '../../src/measure/weather/foliage.js';
import { meterFor, NoiseMeter } from '../../src/measure/weather/noise.js';
import { sampledFrames, sampleOf } from '../../src/measure/weather/sample.js';
import { withMask } from '../../src/measure/weather/seen-as.js';
import { tempCache, tempDir } from '../clip/fixtures.js';
import { drawFrames, writeClip } from '../support/clips.js';

const size = { width: 64, height: 48 };

it('what was found in a clip is not looked for again under another mask', async () => {
  const frames = drawFrames(20, () => null, 'seen-as', 20);
  const dir = await writeClip(await tempDir(), frames, { version: 1, visits: [] }, { rate: 5 });
  const clip = await openClip(dir, { cache: await tempCache() });
  needLabels(clip);
  const noise = new NoiseMeter(clip, size);
  for await (const { y, first } of sampledFrames(clip, size)) noise.see(y, first);
  await noise.measure();
  const [sample, found] = [await sampleOf(clip), await foundIn(clip)];
  const corner: [number, number][] = [
    [0, 0],
    [0.5, 0],
    [0, 0.5],
  ];
  // Of a masked clip, too.
  const masked = withMask(withMask(clip, []), [corner]);
  expect(masked.labels.mask).toEqual([corner]);
  expect(clip.labels.mask).toBeUndefined();
  expect(await sampleOf(masked)).toBe(sample);
  expect(await foundIn(masked)).toBe(found);
  expect(meterFor(masked, size)).toBeNull();
});
