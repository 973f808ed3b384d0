import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Clip, openClip } from '../../src/clip/open.js';
import { rateOf } from '../../src/fit/search/course.js';
import { HeldFrames } from '../../src/fit/search/held-frames.js';
import { Looking } from '../../src/fit/search/looking.js';
import { Cache } from '../../src/store/cache.js';
import { drawFrames, small, writeClip } from '../support/clips.js';

const folder = mkdtempSync(join(tmpdir(), 'looking-'));
afterAll(() => rmSync(folder, { recursive: true }));
const cache = new Cache(join(folder, 'cache'));
const film = drawFrames(
  120,
  (k) => (k % 30 < 12 ? { x: 3 * (k % 30), y: 10, size: 7, level: 150 } : null),
  'looking',
);
let clip: Clip;
beforeAll(async () => {
  clip = await openClip(await writeClip(join(folder, 'clip'), film, null), { cache });
});
const lookingAt = (rate: number) => new Looking(clip, rate, { cache });

/** The frames themselves: the same objects where they were held. */
async function read(looking: Looking, size = small): Promise<Uint8Array[]> {
  const all: Uint8Array[] = [];
  for await (const y of looking.framesAt(size).from(0)) all.push(y);
  return all;
}

describe('the frames of a clip', () => {
  it('are decoded once while they are held, for every rate and size that will be asked for', async () => {
    const half = { width: small.width / 2, height: small.height / 2 };
    const held = new HeldFrames(clip, [small, half]);
    const at = (rate: number) => new Looking(clip, rate, { cache }, held);
    const first = await read(at(5));
    expect(first).toEqual(film.map((frame) => Uint8Array.from(frame)));
    const again = await read(at(5));
    for (const [k, frame] of again.entries()) expect(frame).toBe(first[k]);
    const slower = await read(at(2.5));
    expect(slower).toHaveLength(film.length / 2);
    for (const frame of slower) expect(first).toContain(frame);
    const [halved, halvedAgain] = [await read(at(5), half), await read(at(5), half)];
    expect(halved).toEqual(await read(lookingAt(5), half));
    for (const [k, frame] of halved.entries()) expect(frame).toBe(halvedAgain[k]);
  });

  it('are decoded each time where there is no room for them', async () => {
    const one = small.width * small.height;
    const held = new HeldFrames(clip, [small], undefined, one * film.length - 1);
    const looking = new Looking(clip, 5, { cache }, held);
    const sums = async () => {
      const all: number[] = [];
      for await (const y of looking.framesAt(small).from(0)) all.push(y.reduce((a, b) => a + b, 0));
      return all;
    };
    const told = film.map((frame) => frame.reduce((a, b) => a + b, 0));
    expect([await sums(), await sums()]).toEqual([told, told]);
    // One array, overwritten.
    expect(new Set(await read(looking)).size).toBe(1);
  });

  it('are all seen at the rate that is told for them', () => {
    const timesAt = (rate: number) => Float64Array.from({ length: 40_000 }, (_, k) => k / rate);
    for (const rate of [30.0029, 29.97002997, 5, 4.99986, 0.2]) {
      const times = timesAt(rate);
      const seen = new Looking(
        { ...clip, times, rate, seconds: times.length / rate },
        rateOf({ times, rate }),
        { cache },
      );
      expect(seen.times.length, `${rate}`).toBe(times.length);
    }
  });
});
