import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cameraSchema } from '../../../src/camera/description.js';
import type { ResolvedSettings } from '../../../src/camera/settings.js';
import { photosFor } from '../../../src/camera/timing.js';
import { openClip } from '../../../src/clip/open.js';
import { type Cures, findCures } from '../../../src/diagnose/cures/cures.js';
import { halvesOf } from '../../../src/diagnose/cures/halves.js';
import type { Cure } from '../../../src/diagnose/diagnosis.js';
import { openReplayed, type ReplayedClip } from '../../../src/diagnose/replayed-clip.js';
import { replayClip } from '../../../src/measure/replay.js';
import { judgeAll } from '../../../src/score/replayed.js';
import { Cache } from '../../../src/store/cache.js';
import { smallCamera, writeClip } from '../../support/clips.js';
import { camera, drawn, mapsOf, settings as plain, type Square } from '../made.js';

const folder = mkdtempSync(join(tmpdir(), 'cures-'));
const cache = new Cache(join(folder, 'cache'));
afterAll(() => rmSync(folder, { recursive: true }));

const settings = { ...plain, cooldown: 1 };
const animal = { size: 6, grey: 200, at: [40, 30] as [number, number] };
const FRAMES = 400;
/** A visit every 10 s, low on the right; labelled until the last photo of it. */
const visitors: Square[] = Array.from({ length: 8 }, (_, i) => ({
  ...animal,
  from: 50 * i + 20,
  to: 50 * i + 26,
}));
const visits = visitors.map(({ from, to }) => ({ start: from / 5, end: (to + 3) / 5, type: 'animal' }));
/** Something that comes and goes four times in 10 s at a place, between visits. */
const flicker = (at: [number, number], fromFrame: number, toFrame: number, size = 5): Square[] =>
  Array.from({ length: FRAMES / 50 }, (_, i) => [2, 10, 34, 42].map((k) => 50 * i + k))
    .flat()
    .filter((k) => k >= fromFrame && k < toFrame)
    .map((k) => ({ size, grey: 180, at, from: k, to: k, still: true }));

async function caseOf(
  name: string,
  squares: readonly Square[],
  with_: ResolvedSettings = settings,
  labels: object | null = { version: 1, visits },
  cam = camera,
): Promise<ReplayedClip> {
  const dir = await writeClip(join(folder, name), drawn(FRAMES, squares), labels);
  return openReplayed(await openClip(dir, { cache }), cam, with_, { cache });
}
const curesOf = async (replayed: ReplayedClip) =>
  findCures([replayed], [await mapsOf(replayed, cache)], { cache });

async function counted(replayed: ReplayedClip, cure: Cure) {
  const times = await replayClip(
    replayed.clip,
    replayed.camera,
    { ...cure.settings, warnings: [] },
    { cache },
  );
  const then = judgeAll(times, (time) => photosFor(replayed.camera, time), replayed.truth);
  const lost = replayed.judged.visits.filter(({ caught }, v) => caught && !then.visits[v]?.caught).length;
  const gained = replayed.judged.visits.filter(({ caught }, v) => !caught && then.visits[v]?.caught).length;
  return { falseTriggers: then.counts?.falseTriggers as number, lost, gained };
}

describe('cures', () => {
  let replayed: ReplayedClip;
  let found: Cures;
  beforeAll(async () => {
    replayed = await caseOf('corner', [...visitors, ...flicker([3, 3], 0, FRAMES)]);
    found = await curesOf(replayed);
  });

  it('begin with the mask over the corner that fires falsely, all of it gone and no visit lost', () => {
    expect(replayed.judged.counts).toMatchObject({ caught: 8, falseTriggers: 32 });
    const best = found.cures[0] as Cure;
    expect(best).toMatchObject({ kind: 'mask', falseRemoved: 32, visitsLost: 0, turn: null });
    expect(best.of).toEqual({ falseTriggers: 32, caught: 8 });
    const { proof } = best;
    expect(proof).toMatchObject({ falseRemoved: proof.falseTriggers, visitsLost: 0, caught: 4 });
    // About half of the 32: a flicker between the halves belongs to neither.
    expect(proof.falseTriggers).toBeGreaterThanOrEqual(12);
    expect(proof.falseTriggers).toBeLessThanOrEqual(16);
  });

  it('do what they say when replayed by themselves', async () => {
    expect(found.cures.length).toBeGreaterThan(2);
    for (const cure of found.cures) {
      expect(await counted(replayed, cure)).toEqual({
        falseTriggers: 32 - cure.falseRemoved,
        lost: cure.visitsLost,
        gained: cure.visitsGained,
      });
    }
  });

  it('come in order of false triggers removed per visit lost, those that lose none first', () => {
    const worth = found.cures.map(({ falseRemoved, visitsLost }) =>
      visitsLost === 0 ? 1e6 + falseRemoved : falseRemoved / visitsLost,
    );
    expect(worth).toEqual([...worth].sort((x, y) => y - x));
  });

  it('count more frames in a row among them, which no dial of this camera sets', () => {
    // What flickers changes two frames: when it comes and when it goes. Three in a row are needed to be rid of it.
    const longer = found.cures.filter(({ kind }) => kind === 'persistence');
    expect(longer).toMatchObject([{ turn: null, falseRemoved: 32, settings: { persistence: 3 } }]);
  });

  it('keep what was masked before', async () => {
    const mask: [number, number][] = [
      [0.9, 0],
      [1, 0],
      [1, 0.1],
    ];
    const squares = [...visitors, ...flicker([3, 3], 0, FRAMES)];
    const masked = await caseOf('masked', squares, settings, { version: 1, visits, mask: [mask] });
    const [best] = (await curesOf(masked)).cures;
    expect(best?.settings.mask).toEqual([mask, expect.anything()]);
  });
});

describe('what is not offered', () => {
  it('is a mask that helps on one half of the footage only', async () => {
    const replayed = await caseOf('moves', [
      ...visitors,
      ...flicker([3, 3], 0, FRAMES / 2),
      ...flicker([50, 3], FRAMES / 2, FRAMES),
    ]);
    const { cures } = await curesOf(replayed);
    expect(cures.filter(({ kind }) => kind === 'mask')).toEqual([]);
  });

  it('is a cure that cannot be proved, for too little happens on the other half', async () => {
    const replayed = await caseOf('too-little', [...visitors, ...flicker([3, 3], 0, FRAMES / 2)]);
    const { cures, notes } = await curesOf(replayed);
    expect(cures).toEqual([]);
    expect(notes).toEqual([
      expect.stringMatching(/^Too little to tell: .* have \d+ and [0-4] false triggers?;/),
    ]);
  });

  it('is anything without labels', async () => {
    const replayed = await caseOf('unlabelled', flicker([3, 3], 0, FRAMES), settings, null);
    const { cures, notes } = await curesOf(replayed);
    expect(cures).toEqual([]);
    expect(notes).toEqual([expect.stringMatching(/^Without labels/)]);
  });
});

describe('a camera whose reference waits for it', () => {
  it('is offered turns of its dials, measured frame by frame, and no mask', async () => {
    const waiting = cameraSchema.parse({
      ...smallCamera,
      analysis: { ...smallCamera.analysis, smooth: 0 },
      reference: { kind: 'previous', lag: 1, whileBusy: 'frozen' },
    });
    const squares = [...visitors, ...flicker([3, 3], 0, FRAMES)];
    const replayed = await caseOf('waiting', squares, settings, { version: 1, visits }, waiting);
    const { cures, notes } = await findCures([replayed], [null], { cache });
    expect(notes).toEqual([expect.stringMatching(/^Masks were not tried/)]);
    expect(cures.length).toBeGreaterThan(0);
    const now = replayed.judged.counts?.falseTriggers as number;
    for (const cure of cures) {
      expect(cure.kind).not.toBe('mask');
      expect((await counted(replayed, cure)).falseTriggers).toBe(now - cure.falseRemoved);
    }
  });
});

describe('the halves of the footage', () => {
  it('share no visit and take turns as to which comes first', async () => {
    const replayed = await caseOf('halves', visitors);
    const [first, second] = halvesOf([replayed, replayed]);
    for (const halved of [first, second]) {
      const { finding, proving } = halved ?? {};
      expect(finding?.truth.visits.length).toBe(4);
      expect(proving?.truth.visits.length).toBe(4);
    }
    expect(first?.finding?.from).toBe(0);
    expect(second?.proving?.from).toBe(0);
    expect(second?.finding?.truth.visits).toEqual(first?.proving?.truth.visits);
  });

  it('are whole clips where a clip cannot be cut', async () => {
    const visit = { start: 1, end: 79, type: 'animal' };
    const replayed = await caseOf('uncut', visitors, settings, { version: 1, visits: [visit] });
    const halves = halvesOf([replayed, replayed]);
    expect(halves.map((h) => [h?.finding === h?.whole, h?.proving === h?.whole])).toEqual([
      [true, false],
      [false, true],
    ]);
  });
});
