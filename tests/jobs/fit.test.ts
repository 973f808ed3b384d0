import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Camera, cameraSchema } from '../../src/camera/description.js';
import { directReplay } from '../../src/camera/direct-replay.js';
import { agreementOf } from '../../src/fit/agreement.js';
import { fit as fitTo } from '../../src/jobs/fit.js';
import { replay } from '../../src/jobs/replay.js';
import { Cache } from '../../src/store/cache.js';
import { drawFrames, type Path, small, writeClip } from '../support/clips.js';

const folder = mkdtempSync(join(tmpdir(), 'fit-'));
afterAll(() => rmSync(folder, { recursive: true }));
const cache = new Cache(join(folder, 'cache'));
const FRAMES = 1000;

/** Squares that come in from the left every few seconds, hop on, stand still and go, of many sizes and greys. */
const visits =
  (salt: number): Path =>
  (k) => {
    const n = Math.floor(k / 31);
    const since = k % 31;
    const mix = (n * 7919 + salt * 104_729) % 1009;
    if (since >= 8 + (mix % 17)) return null;
    const size = 3 + (mix % 11);
    const hops = [2, 9, 9, 20, 22, 30, 30, 30, 30, 33, 40, 40, 40, 40, 40, 47];
    const x = hops[Math.min(hops.length - 1, since)]! + (mix % 5);
    return { x, y: 4 + (mix % 30), size, level: 100 + (mix % 2 === 0 ? 1 : -1) * (8 + (mix % 53)) };
  };
const films = [1, 2].map((salt) => drawFrames(FRAMES, visits(salt), `fit ${salt}`, 2));
const clips = ['one', 'two'].map((name) => join(folder, name));

beforeAll(async () => {
  for (const [i, film] of films.entries()) await writeClip(clips[i]!, film, null);
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

// This film cannot tell it from a slow average that goes on, which is simpler.
it('explains a reference that stands still while the camera is busy', async () => {
  const found = await fitTo({ clip: clips[0]!, fired: firedBy(frozen, films[0]!) }, { cache });
  expect(found.agreement.f1).toBeGreaterThan(0.95);
  expect(found.camera.reference.kind).toBe('average');
  expect(found.equallyGood.length).toBeGreaterThan(1);
  expect(found.record).not.toBeNull();
});

it('says of a description that was given how it fires as it stands, with its dials turned or as they stood', async () => {
  const fired = firedBy(previous, films[0]!);
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
  const input = { clip: clips[0]!, fired: fired.map((time) => time + 7), camera };
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

it('of few times it says that they are too few', async () => {
  const fired = firedBy(previous, films[0]!).slice(0, 6);
  const found = await fitTo({ clip: clips[0]!, fired }, { cache });
  expect(found.tells).toBe('too few');
  expect(found.record).toMatch(/^Record longer/);
});

it('times of another day are refused, and so is no agreement at all', async () => {
  await expect(fitTo({ clip: clips[0]!, fired: [5000, 5050] }, { cache })).rejects.toThrow(
    /^fired: expected times while the clip was recorded \(0 to 200 s/,
  );
});
