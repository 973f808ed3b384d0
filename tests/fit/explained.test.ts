import { expect, it } from 'vitest';
import type { Clip } from '../../src/clip/open.js';
import { explain } from '../../src/fit/explained.js';
import type { Look } from '../../src/fit/look.js';
import type { Looking } from '../../src/fit/looking.js';
import { Reckoning } from '../../src/fit/reckoning.js';
import type { Told } from '../../src/fit/told.js';
import { toleranceFor } from '../../src/fit/wanted.js';
import type { ColumnSource } from '../../src/sweep/columns.js';

const RATE = 5;
const SECONDS = 400;
const times = Float64Array.from({ length: SECONDS * RATE }, (_, k) => k / RATE);
const look: Look = {
  width: 160,
  height: 120,
  smooth: 1,
  reference: { kind: 'previous', lag: 1 },
  whileBusy: 'continues',
};
/** Something comes now and then; with every fifth of them a gust stirs half of the picture, and the camera stays silent. */
const comes = Array.from({ length: 30 }, (_, i) => 20 + 62 * i + ((i * 7) % 23));
const isGusty = (i: number) => i % 5 === 2;
const visitAt = (k: number) => comes.findIndex((frame) => k >= frame && k < frame + 6);
const columnsOf = (levels: readonly number[], gust: number) =>
  new Map(
    levels.map((level) => [
      level,
      Uint32Array.from(times, (_, k) => {
        const visit = visitAt(k);
        return visit < 0 ? 0 : Math.max(0, 90 - level) + (isGusty(visit) ? gust : 0);
      }),
    ]),
  );
const source: ColumnSource = {
  columns: async (levels, kind) => columnsOf(levels, kind === 'changed' ? 8000 : 0),
  bothColumns: async (levels) => ({ region: columnsOf(levels, 0), changed: columnsOf(levels, 8000) }),
};

it('an upper limit holds for all that is told: what is as good has one too, and so has what the first two thirds choose', async () => {
  const fired = comes.filter((_, i) => !isGusty(i)).map((frame) => frame / RATE);
  const told: Told = {
    times: fired,
    isPlaced: true,
    quantum: 0,
    given: fired.length,
    burst: null,
    assumed: [],
  };
  const values = { kind: 'region' as const, level: 20, area: 40, persistence: 1, cooldown: 3 };
  const tried = {
    look,
    busy: null,
    source,
    best: { place: [0, 0, 0, 0, 0] as const, values, most: 0.9, own: 0.9 },
    clock: { offset: 0, drift: 0 },
    worth: 0.9,
  };
  const found = await explain({ seconds: SECONDS } as Clip, told, {
    looking: { times, rate: RATE } as unknown as Looking,
    reckoning: new Reckoning(times.length, look, [look], () => {}),
    tolerance: toleranceFor(told, RATE, undefined),
    cooldowns: [3],
    floor: 10,
    tried: [tried],
  });
  expect(found!.mostChanged).toBeGreaterThan(80);
  expect(found!.mostChanged).toBeLessThan(8000);
  expect(found!.agreement).toMatchObject({ f1: 1, extra: 0 });
  // Without a limit it would fire at both gusts of the last third: 0.89.
  expect(found!.heldOut).toBe(1);
  for (const { mostChanged, f1 } of found!.equallyGood) {
    expect(f1).toBe(1);
    expect(mostChanged).toBeLessThan(8000);
  }
});
