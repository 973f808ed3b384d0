import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Clip, openClip } from '../../src/clip/open.js';
import { rasterize } from '../../src/engine/mask.js';
import { type SiteResult, tune } from '../../src/jobs/tune.js';
import { Cache } from '../../src/store/cache.js';
import { camera, drawn, type Square } from '../diagnose/made.js';
import { small, writeClip } from '../support/clips.js';

const folder = mkdtempSync(join(tmpdir(), 'masks-'));
const cache = new Cache(join(folder, 'cache'));
afterAll(() => rmSync(folder, { recursive: true }));

const ROUNDS = 32;
const rounds = (of: (first: number) => Square[]) =>
  Array.from({ length: ROUNDS }, (_, i) => of(50 * i)).flat();
/** Every 10 s a visit low on the right; every second one is faint. */
const at: [number, number] = [40, 30];
const visitors = Array.from({ length: ROUNDS }, (_, i) => ({
  at,
  size: 6,
  grey: i % 2 === 0 ? 200 : 122,
  from: 50 * i + 20,
  to: 50 * i + 26,
}));
const visits = visitors.map(({ from, to }) => ({ start: from / 5, end: (to + 3) / 5, type: 'animal' }));
/** Brighter than the faint visitors, four times in 10 s between them. */
const flicker = (where: [number, number]) =>
  rounds((first) =>
    [2, 10, 34, 42].map((k) => ({
      at: where,
      size: 8,
      grey: 128,
      from: first + k,
      to: first + k,
      still: true as const,
    })),
  );
const own: [number, number][] = [
  [0, 0.8],
  [0.2, 0.8],
  [0.2, 1],
  [0, 1],
];
const CORNER: [number, number] = [0, 0];

const wanted = { falsePerHour: 6 };
const writeWith = async (name: string, where: [number, number], labels: object): Promise<Clip> => {
  const dir = await writeClip(
    join(folder, name),
    drawn(50 * ROUNDS, [...visitors, ...flicker(where)]),
    { version: 1, visits, ...labels },
    { rate: 5, conditions: { wind: 1, rain: 0, light: 5000 } },
  );
  return openClip(dir, { cache });
};
const tuned = async (clip: Clip, onProgress?: () => void): Promise<SiteResult> => {
  const { sites } = await tune(
    { clips: [clip], camera, wanted, recordedOnly: true },
    { cache, ...(onProgress && { onProgress }) },
  );
  return sites[0]!;
};
const isMasked = (site: SiteResult, [x, y]: [number, number]) =>
  rasterize(site.mask?.polygons ?? [], small.width, small.height)[y * small.width + x] === 1;

describe('a corner that flickers, visitors elsewhere', () => {
  let clip: Clip;
  let site: SiteResult;
  beforeAll(async () => {
    clip = await writeWith('corner', CORNER, { mask: [own] });
    site = await tuned(clip);
  });

  it('gets a mask over the corner and none over the visitors', () => {
    expect(isMasked(site, [4, 4])).toBe(true);
    expect(isMasked(site, [43, 33])).toBe(false);
    expect(isMasked(site, [50, 33])).toBe(false);
  });

  it('catches more visits within the same allowance', () => {
    const { recommended, mask } = site;
    expect(mask?.withoutIt.score.caught).toBe(ROUNDS / 2);
    expect(recommended.score).toMatchObject({ caught: ROUNDS, falseTriggers: 0 });
  });

  it("keeps the owner's polygons, and adds the new ones in what is recommended only", () => {
    const { recommended, best, mask } = site;
    expect(recommended.settings.mask).toEqual([own, ...(mask?.polygons ?? [])]);
    expect(mask?.polygons).not.toContainEqual(own);
    expect(best.settings).not.toHaveProperty('mask');
    expect(mask?.withoutIt.settings).not.toHaveProperty('mask');
  });

  it('is held against what is used now under its mask', () => {
    expect(site.now.score.caught + site.now.against.gained.length - site.now.against.lost.length).toBe(
      ROUNDS,
    );
  });

  it('is told of calm weather under its mask too, so that no file written for it lacks the mask', () => {
    const [calm] = site.byCondition;
    expect(calm).toMatchObject({ condition: 'calm', source: 'recorded' });
    expect(calm?.choice?.settings.mask).toEqual(site.recommended.settings.mask);
    expect(calm?.choice?.score).toMatchObject({ caught: ROUNDS, falseTriggers: 0 });
    expect(site.front[0]).toMatchObject({ recall: 1, falsePerHour: 0 });
  });

  it('meets simulated dusk under its mask too', async () => {
    const { sites } = await tune({ clips: [clip], camera, wanted }, { cache });
    const dusk = sites[0]?.byCondition.find(({ condition }) => condition === 'low light');
    const bright = dusk?.strengths?.filter(({ recall }) => (recall ?? 0) > 0) ?? [];
    expect(bright.length).toBeGreaterThan(0);
    expect(bright.map(({ falsePerHour }) => falsePerHour)).toEqual(bright.map(() => 0));
  });

  it('rests on what was recorded where a simulated copy is given beside it', async () => {
    const simulated = { from: 'corner', seed: '1', assumed: [] };
    const copy = { ...clip, dir: 'copy', manifest: { ...clip.manifest, simulated } };
    const warned: string[] = [];
    const { sites } = await tune(
      { clips: [clip, copy], camera, wanted, recordedOnly: true },
      { cache, onWarning: (line) => warned.push(line) },
    );
    expect(sites[0]?.recommended).toEqual(site.recommended);
    expect(sites[0]?.now.score).toEqual(site.now.score);
    expect(warned).toContainEqual(
      expect.stringMatching(/^copy: it speaks only for weather that no clip recorded/),
    );
  });

  it('reads no frame another time', async () => {
    let read = 0;
    expect(await tuned(clip, () => read++)).toEqual(site);
    expect(read).toBe(0);
  });
});

it('is the same where evidence was kept and not where it changed: that is read once more', async () => {
  const clip = await writeWith('read before', CORNER, {});
  const first = await tuned(clip);
  rmSync(join(folder, 'cache', 'pieces'), { recursive: true });
  rmSync(join(folder, 'cache', 'masks'), { recursive: true });
  let read = 0;
  expect(await tuned(clip, () => read++)).toEqual(first);
  expect(read).toBe(clip.times.length);
});

it('what flickers where the visitors are is left alone', async () => {
  expect((await tuned(await writeWith('amidst', [42, 29], {}))).mask).toBeNull();
});

it('nothing is said of masks below 8 visits', async () => {
  const few = {
    visits: visits.slice(0, 7),
    ignored: visits.slice(7).map(({ start, end }) => ({ start, end })),
  };
  expect((await tuned(await writeWith('few', CORNER, few))).mask).toBeNull();
});
