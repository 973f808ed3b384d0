import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import seedrandom from 'seedrandom';
import { describe, expect, it } from 'vitest';
import { measure } from '../../src/measure/pass.js';
import type { Frames, Track } from '../../src/measure/track.js';
import type { Cache } from '../../src/store/cache.js';
import type { Weather } from '../../src/weather/weather.js';
import { tempCache } from '../clip/fixtures.js';
import { damages } from '../support/damages.js';
import { takenAway } from '../support/gone.js';

const [width, height] = [8, 6];
/** Three chunks of evidence. */
const FRAMES = 1100;
const times = Float64Array.from({ length: FRAMES }, (_, k) => k / 5);
const random = seedrandom('pass');
const pictures = Array.from(times, () =>
  Uint8Array.from({ length: width * height }, () => 100 + Math.floor(40 * random())),
);

/** The frames, with a note of each that is read; reading may break off after some. */
function source(breakAt = FRAMES): Frames & { read: number[] } {
  const read: number[] = [];
  return {
    times,
    read,
    *from(first) {
      for (let k = first; k < FRAMES; k++) {
        if (k === breakAt) throw new Error('the disk was taken away');
        read.push(k);
        yield pictures[k]!;
      }
    },
  };
}

/** Darkens each frame by what it has seen before, so that it differs when it starts anew in the middle. */
function remembering(): Weather {
  let sum = 0;
  const out = new Uint8Array(width * height);
  return {
    assumed: [],
    apply(y) {
      sum = (sum + y[0]!) % 50;
      for (let i = 0; i < out.length; i++) out[i] = y[i]! - (i % 2 === 0 ? sum : 0);
      return out;
    },
  };
}

const differencer = {
  width,
  height,
  smooth: 0,
  reference: { kind: 'average', seconds: 2 },
  mask: null,
} as const;
const recorded: Track = { key: 'recorded', differencer, floor: 3 };
const masked: Track = {
  key: 'masked',
  differencer: {
    ...differencer,
    mask: Uint8Array.from({ length: width * height }, (_, i) => (i < 20 ? 1 : 0)),
  },
  floor: 3,
};
const weathered: Track = { key: 'weathered', differencer, floor: 3, weather: remembering };
const tracks = [recorded, masked, weathered];

const levels = [3, 12, 25];
async function columnsOf(cache: Cache, frames: Frames = source(), of: readonly Track[] = tracks) {
  const kept = await measure(frames, of, { cache });
  return Promise.all(kept.map((evidence) => evidence.columns(levels, 'region')));
}

describe('measuring several tracks', () => {
  it('reads each frame once for all, and gives each what it gives by itself', async () => {
    const frames = source();
    const together = await columnsOf(await tempCache(), frames);
    expect(frames.read).toHaveLength(FRAMES);
    for (const [i, track] of tracks.entries()) {
      expect([together[i]]).toEqual(await columnsOf(await tempCache(), source(), [track]));
    }
    expect(new Set(together.map((columns) => String(columns.get(12)))).size).toBe(3);
  });

  it('reads nothing for tracks that are kept, and only what the others lack', async () => {
    const cache = await tempCache();
    await columnsOf(cache, source(), [recorded, weathered]);
    const frames = source();
    await columnsOf(cache, frames, [recorded, weathered]);
    expect(frames.read).toEqual([]);
    const together = await columnsOf(cache, frames);
    expect(frames.read).toHaveLength(FRAMES);
    expect(together).toEqual(await columnsOf(await tempCache()));
  });

  it('goes on from the earliest point at which all can, after a run that was broken off', async () => {
    const cache = await tempCache();
    await expect(columnsOf(cache, source(600), [recorded])).rejects.toThrow('taken away');
    await expect(columnsOf(cache, source(1050), [masked])).rejects.toThrow('taken away');
    const frames = source();
    const together = await columnsOf(cache, frames, [recorded, masked]);
    expect(frames.read[0]).toBe(512);
    expect(together).toEqual(await columnsOf(await tempCache(), source(), [recorded, masked]));
  });

  it('starts weather anew after a run that was broken off, and gives what an unbroken run gives', async () => {
    const cache = await tempCache();
    await expect(columnsOf(cache, source(1050))).rejects.toThrow('taken away');
    const frames = source();
    expect(await columnsOf(cache, frames)).toEqual(await columnsOf(await tempCache()));
    expect(frames.read).toHaveLength(FRAMES);
  });
});

describe.each(Object.keys(damages))('kept evidence %s', (damage) => {
  it.each(tracks.map(({ key }) => key))('is made again between runs: %s', async (key) => {
    const cache = await tempCache();
    const whole = await columnsOf(cache);
    damages[damage]!(chunkOf(cache, key));
    expect(await columnsOf(cache)).toEqual(whole);
    const frames = source();
    expect(await columnsOf(cache, frames)).toEqual(whole);
    expect(frames.read).toEqual([]);
  });

  it.each(['state-0', 'state-1'])('is gone on from as far as it is whole: %s', async (name) => {
    const cache = await tempCache();
    await expect(columnsOf(cache, source(1050), [recorded])).rejects.toThrow('taken away');
    damages[damage]!(cache.path('evidence', 'recorded', name));
    expect(await columnsOf(cache, source(), [recorded])).toEqual(
      await columnsOf(await tempCache(), source(), [recorded]),
    );
  });

  it('is made again in the middle of a run, once for all who ask', async () => {
    const cache = await tempCache();
    const whole = await columnsOf(cache);
    const frames = source();
    const kept = await measure(frames, tracks, { cache });
    damages[damage]!(chunkOf(cache, 'weathered'));
    const asked = [0, 1, 2].map(() => kept[2]!.columns(levels, 'region'));
    expect(await Promise.all(asked)).toEqual([whole[2], whole[2], whole[2]]);
    expect(frames.read).toHaveLength(FRAMES);
  });
});

it('a cache that is emptied again and again only costs time', async () => {
  const whole = await columnsOf(await tempCache());
  const cache = await tempCache();
  const frames = source();
  const emptying: Frames = {
    times,
    *from(first) {
      for (const y of frames.from(first) as Iterable<Uint8Array>) {
        if (frames.read.length % 400 === 0) takenAway(cache.root);
        yield y;
      }
    },
  };
  expect(await columnsOf(cache, emptying)).toEqual(whole);
});

function chunkOf(cache: Cache, key: string): string {
  const set = cache.path('evidence', key);
  return join(set, readdirSync(set)[1]!);
}
