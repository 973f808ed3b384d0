import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Jimp } from 'jimp';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type Clip, openClip } from '../../src/clip/open.js';
import { backdropOf } from '../../src/report/backdrop.js';
import type { Labels } from '../../src/score/labels.js';
import { Cache } from '../../src/store/cache.js';
import { drawFrames, writeClip } from '../support/clips.js';

const dir = mkdtempSync(join(tmpdir(), 'perchmark-backdrop-'));
let clip: Clip;

// A bright square stands in the middle for three quarters of the clip.
beforeAll(async () => {
  const frames = drawFrames(40, (k) => (k < 30 ? { x: 24, y: 16, size: 16, level: 250 } : null), 'backdrop');
  await writeClip(dir, frames, null);
  clip = await openClip(dir, { cache: new Cache(join(dir, 'cache')) });
});
afterAll(() => rmSync(dir, { recursive: true, force: true }));

const labelled = (labels: Omit<Labels, 'version'>): Clip => ({ ...clip, labels: { version: 1, ...labels } });

/** Mean grey level of the square's middle less that of a corner of the picture. */
async function contrast(of: Clip): Promise<number> {
  const { address } = await backdropOf(of);
  const image = await Jimp.fromBuffer(Buffer.from((address as string).split(',')[1]!, 'base64'));
  const mean = (left: number, top: number) => {
    let sum = 0;
    for (let y = top; y < top + 8; y++)
      for (let x = left; x < left + 8; x++) sum += image.bitmap.data[4 * (y * 64 + x)]!;
    return sum / 64;
  };
  return mean(28, 20) - mean(0, 0);
}

test('what stands in view most of the time is on the backdrop, paler than it was', async () => {
  const shown = await contrast(clip);
  expect(shown).toBeGreaterThan(20);
  // It is 150 grey levels brighter than what lies around it.
  expect(shown).toBeLessThan(100);
});

test('frames with a person in them are left out', async () => {
  expect(
    Math.abs(await contrast(labelled({ visits: [{ start: 0, end: 5.9, type: 'human' }] }))),
  ).toBeLessThan(5);
});

test('frames that nobody reviewed are left out, for a person may be in them', async () => {
  const reviewed = labelled({ visits: [], reviewed: [{ start: 6.2, end: 8 }] });
  expect(Math.abs(await contrast(reviewed))).toBeLessThan(5);
});

test('where a person is in view all the time there is no picture', async () => {
  const { address, aspect } = await backdropOf(labelled({ visits: [{ start: 0, end: 8, type: 'human' }] }));
  expect(address).toBeNull();
  expect(aspect).toBe(0.75);
});

test('the same clip gives the same bytes', async () => {
  expect(await backdropOf(clip)).toEqual(await backdropOf(clip));
});
