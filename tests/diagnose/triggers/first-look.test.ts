import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { type Camera, cameraSchema } from '../../../src/camera/description.js';
import { type Clip, openClip } from '../../../src/clip/open.js';
import { diagnose } from '../../../src/diagnose/diagnose.js';
import { Cache } from '../../../src/store/cache.js';
import { smallCamera, writeClip } from '../../support/clips.js';
import { camera, drawn, settings as plain, type Square } from '../made.js';

const folder = mkdtempSync(join(tmpdir(), 'first-look-'));
afterAll(() => rmSync(folder, { recursive: true }));

const FRAMES = 400;
const settings = { ...plain, cooldown: 1 };
/** A visit every 10 s, the last of which is too small for these settings, and something that flickers in a corner. */
const squares: Square[] = Array.from({ length: 8 }, (_, i): Square[] => [
  { size: i === 7 ? 3 : 6, grey: 200, at: [40, 30], from: 50 * i + 20, to: 50 * i + 26 },
  ...[2, 10, 34, 42].map(
    (k): Square => ({ size: 5, grey: 180, at: [3, 3], from: 50 * i + k, to: 50 * i + k, still: true }),
  ),
]).flat();
const visits = Array.from({ length: 8 }, (_, i) => ({
  ...{ start: 10 * i + 4, end: 10 * i + 5.8, type: 'animal' },
  ...(i % 2 === 0 && { box: [0.6, 0.6, 0.3, 0.3] }),
}));
/** Over a part of where the visitors are. */
const mask = [
  [
    [0.6, 0.6],
    [0.7, 0.6],
    [0.7, 0.8],
    [0.6, 0.8],
  ],
];

/** The clip, with a count of the frames that were decoded. */
async function clipOf(name: string, labels: object | null): Promise<{ clip: Clip; decoded: () => number }> {
  const dir = await writeClip(join(folder, name), drawn(FRAMES, squares), labels);
  const clip = await openClip(dir, { cache: new Cache(join(folder, 'opening')) });
  let count = 0;
  const used = async () => {
    count++;
  };
  return { clip: { ...clip, source: { ...clip.source, used } } as Clip, decoded: () => count };
}

const cameras: [string, Camera][] = [
  ['the frame before', camera],
  ['an average', { ...camera, reference: { kind: 'average', seconds: 1.5, whileBusy: 'continues' } }],
  ['the frame before, by all that changed', { ...camera, area: 'changed' }],
  ['smoothed frames', cameraSchema.parse(smallCamera)],
];

describe('a first diagnosis', () => {
  it.each(
    cameras.flatMap(([compares, one]) => [
      { compares, one, labels: { version: 1, visits }, of: 'labelled' },
      { compares, one, labels: { version: 1, visits, mask }, of: 'masked' },
      { compares, one, labels: null, of: 'unlabelled' },
    ]),
  )('says what one from kept evidence does, and reads each frame once: $compares, $of', async (given) => {
    const name = `${given.compares} ${given.of}`;
    const { clip, decoded } = await clipOf(name, given.labels);
    const cache = new Cache(join(folder, `cache ${name}`));
    const first = await diagnose([clip], given.one, settings, { cache });
    expect(decoded()).toBe(FRAMES);
    expect(first.clips[0]!.explained.length).toBeGreaterThan(10);
    // By frames that are looked up: what the first kept of them is taken away.
    await cache.remove(['looks']);
    expect(await diagnose([clip], given.one, settings, { cache })).toEqual(first);
    expect(decoded()).toBeGreaterThan(FRAMES);
  });

  it('that goes on from an interrupted reading says the same', async () => {
    const { clip } = await clipOf('interrupted', { version: 1, visits });
    const straight = await diagnose([clip], camera, settings, { cache: new Cache(join(folder, 'straight')) });
    const cache = new Cache(join(folder, 'interrupted cache'));
    const stop = new AbortController();
    const stopping = {
      cache,
      signal: stop.signal,
      onProgress: (done: number) => void (done === 390 && stop.abort()),
    };
    await expect(diagnose([clip], camera, settings, stopping)).rejects.toThrow(/abort/);
    expect(await diagnose([clip], camera, settings, { cache })).toEqual(straight);
  });
});
