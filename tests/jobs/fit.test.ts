import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Camera, cameraSchema } from '../../src/camera/description.js';
import { directReplay } from '../../src/camera/direct-replay.js';
import { agreementOf } from '../../src/fit/score/agreement.js';
import { fit as fitTo } from '../../src/jobs/fit.js';
import { replay } from '../../src/jobs/replay.js';
import { Cache } from '../../src/store/cache.js';
import { drawFrames, type Path, small, writeClip } from '../support/clips.js';

// A search takes many times as long where the machine is busy with others.
vi.setConfig({ testTimeout: 600_000 });
const folder = mkdtempSync(join(tmpdir(), 'fit-'));
afterAll(() => rmSync(folder, { recursive: true }));
const cache = new Cache(join(folder, 'cache'));
const FRAMES = 700;
/** Of the film by which nothing is foretold. */
const FEW_FRAMES = 300;
const STAYING_FRAMES = 500;

/** Squares that come in from the left every few seconds, hop on, stand still and go, of many sizes and greys. */
const visits =
  (salt: number): Path =>
  (k) => {
    const n = Math.floor(k / 22);
    const since = k % 22;
    const mix = (n * 7919 + salt * 104_729) % 1009;
    if (since >= 6 + (mix % 13)) return null;
    const size = 3 + (mix % 11);
    const hops = [2, 9, 9, 20, 22, 30, 30, 30, 30, 33, 40, 40, 40, 40, 40, 47];
    const x = hops[Math.min(hops.length - 1, since)]! + (mix % 5);
    return { x, y: 4 + (mix % 30), size, level: 100 + (mix % 2 === 0 ? 1 : -1) * (8 + (mix % 53)) };
  };
const films = [1, 2].map((salt) => drawFrames(FRAMES, visits(salt), `fit ${salt}`, 2));
const clips = ['one', 'two'].map((name) => join(folder, name));
const shortFilm = films[0]!.slice(0, FEW_FRAMES);
const shortClip = join(folder, 'short');

/**
 * A block that is put down every 20 s, stays for 9 and is taken away again, and beside it one that brightens and fades all the while by as
 * much, so slowly that an average over a few seconds keeps up: an average that goes on is either too quick for the first or too slow for
 * the second, and no threshold lies between the two.
 */
const staying = drawFrames(
  STAYING_FRAMES,
  (k) => {
    const at = k % 100;
    if (at >= 10 && at < 55) return { x: 8, y: 8, size: 9 + (Math.floor(k / 100) % 3), level: 150 };
    return null;
  },
  'fit stays',
  2,
).map((grey, k) => {
  const at = k % 100;
  const level = at < 50 ? at : 100 - at;
  for (let y = 26; y < 40; y++) for (let x = 36; x < 52; x++) grey[y * small.width + x]! += level;
  return grey;
});
const stayingClip = join(folder, 'staying');

beforeAll(async () => {
  for (const [i, film] of films.entries()) await writeClip(clips[i]!, film, null);
  await writeClip(shortClip, shortFilm, null);
  await writeClip(stayingClip, staying, null);
});

interface Hidden {
  smooth: number;
  reference: Partial<Camera['reference']> & { kind: string };
  area: 'region' | 'changed';
  threshold: number;
  minimumArea: number;
  persistence: number;
  cooldown: number;
}

/** When a camera fires at a film, by the replay that keeps no evidence. */
function firedBy({ smooth, reference, area, ...settings }: Hidden, film: readonly Uint8Array[]): number[] {
  const camera = cameraSchema.parse({ version: 1, analysis: { ...small, rate: 5, smooth }, reference, area });
  const replayed = directReplay(camera, { ...settings, mostChanged: small.width * small.height }, null);
  return film.flatMap((frame, k) => (replayed.step(frame, k / 5) ? [k / 5] : []));
}

const previous: Hidden = {
  smooth: 1,
  reference: { kind: 'previous', lag: 2 },
  area: 'region',
  threshold: 14,
  minimumArea: 12,
  persistence: 1,
  cooldown: 3,
};
const average: Hidden = {
  ...previous,
  smooth: 0,
  reference: { kind: 'average', seconds: 1.5 },
  area: 'changed',
  threshold: 18,
  minimumArea: 16,
  persistence: 2,
};
const frozen: Hidden = {
  ...average,
  reference: { kind: 'average', seconds: 3, whileBusy: 'frozen' },
  cooldown: 4,
};

describe('what is found on one clip predicts when the camera fires on another', () => {
  it.each<[string, Hidden, (fired: number[]) => number[], offset: number]>([
    ['an earlier frame', previous, (fired) => fired, 0],
    [
      'an average, times in whole seconds of a clock 41 s ahead',
      average,
      (fired) => fired.map((time) => Math.floor(time + 41.3)),
      41,
    ],
  ])('%s', async (_, hidden, disturb, offset) => {
    const [here, there] = films.map((film) => firedBy(hidden, film));
    expect(here!.length).toBeGreaterThan(20);
    const found = await fitTo({ clip: clips[0]!, fired: disturb(here!) }, { cache });
    expect(found.agreement.f1).toBeGreaterThan(0.95);
    expect(Math.abs(found.offset - offset)).toBeLessThan(1);
    const settings = { version: 1 as const, ...found.settings };
    const { clips: replayed } = await replay(
      { clips: [clips[1]!], camera: found.camera, settings },
      { cache },
    );
    const triggers = replayed[0]!.triggers.map(({ time }) => time);
    expect(agreementOf(Float64Array.from(there!), triggers, { most: 0.5 }).f1).toBeGreaterThanOrEqual(0.95);
  });
});

it('finds a reference that stands still while the camera is busy, where something stays', async () => {
  const fired = firedBy(frozen, staying);
  expect(fired.length).toBeGreaterThan(12);
  const found = await fitTo({ clip: stayingClip, fired }, { cache });
  expect(found.agreement.f1).toBeGreaterThan(0.95);
  expect(found.camera.reference).toMatchObject({ kind: 'average', whileBusy: 'frozen' });
  // What it would do on the last third is told of nothing else.
  expect(found.heldOut).toBeNull();
});

it('says of a description that was given how it fires as it stands, with its dials turned or as they stood', async () => {
  const fired = firedBy(previous, shortFilm);
  const camera = cameraSchema.parse({
    version: 1,
    analysis: { ...small, rate: 5, smooth: previous.smooth },
    reference: previous.reference,
    area: previous.area,
    controls: {
      sensitivity: { sets: 'threshold', from: 1, to: 3, step: 1, gives: [22, 6] },
      size: { sets: 'minimumArea', choices: [4, 12, 90] },
      wait: { sets: 'cooldown', choices: [1, 3, 10] },
    },
  });
  const input = { clip: shortClip, fired: fired.map((time) => time + 7), camera };
  const { asGiven } = await fitTo(input, { cache });
  expect(asGiven).toMatchObject({
    isWhole: false,
    controls: { sensitivity: 2, size: 12, wait: 3 },
    agreement: { matched: fired.length, missing: 0, extra: 0 },
  });
  expect(Math.abs(asGiven!.offset - 7)).toBeLessThan(0.2);

  const settings = { version: 1 as const, controls: { sensitivity: 2, size: 90, wait: 3 } };
  const other = (await fitTo({ ...input, settings }, { cache })).asGiven;
  expect(other).toMatchObject({ isWhole: true, controls: settings.controls });
  expect(other!.agreement.missing).toBeGreaterThan(fired.length / 2);
});

it.each<[number[], nearest: number]>([
  [[0.2, 10], 0.2],
  [[10, 30], 10],
])(
  'lets go of a cooldown dial of which no position explains the times, for the description may be of another camera: %j',
  async (choices, nearest) => {
    const fired = firedBy(previous, shortFilm);
    const camera = cameraSchema.parse({
      version: 1,
      analysis: { ...small, rate: 5, smooth: 1 },
      reference: { kind: 'previous', lag: 1 },
      controls: { wait: { sets: 'cooldown', choices } },
    });
    const found = await fitTo({ clip: shortClip, fired, camera }, { cache });
    expect(found.settings.cooldown).toBeGreaterThan(2);
    expect(found.agreement.f1).toBeGreaterThan(0.95);
    expect(found.notes.join(' ')).toContain(
      `no position of its dials gives cooldown 3 (the nearest of wait: ${nearest})`,
    );
  },
);

it('of few times it says that they are too few', async () => {
  const onClip = firedBy(previous, shortFilm).slice(0, 6);
  // Later in the day it went on: that tells nothing of this clip.
  const later = Array.from({ length: 20 }, (_, i) => 4000 + 60 * i);
  const fired = [...onClip, ...later];
  const found = await fitTo({ clip: shortClip, fired }, { cache });
  expect(found.tells).toBe('too few');
  expect(found.fired).toMatchObject({ triggers: 26, onClip: 6 });
  expect(found.fired.afterPause).toBeLessThanOrEqual(6);
  expect(found.record).toMatch(/^Record longer/);
});

it.each<[number[], RegExp]>([
  [[5000, 5050], /^fired: expected times while the clip was recorded \(0 to 60 s/],
  [[-66, 170], /^fired: expected times while the clip was recorded \(0 to 60 s, give or take 65 s\)/],
  [[], /^fired: expected times at which the camera fired, found none/],
])('the times %j are refused', async (fired, message) => {
  await expect(fitTo({ clip: shortClip, fired }, { cache })).rejects.toThrow(message);
});

it('where nothing in the clip changes no description is told', async () => {
  const still = await writeClip(
    join(folder, 'still'),
    drawFrames(60, () => null, 'still', 0),
    null,
  );
  await expect(fitTo({ clip: still, fired: [2, 5, 9] }, { cache })).rejects.toThrow(
    /^fired: nothing in .*still fires at anything like these 3 times;/,
  );
  await expect(fitTo({ clip: still, fired: [5] }, { cache })).rejects.toThrow(
    /^fired: nothing in .*still fires at anything like this one time;/,
  );
});
