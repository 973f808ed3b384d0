import { beforeAll, describe, expect, it } from 'vitest';
import type { Clip } from '../../src/clip/open.js';
import { type Explained, explain } from '../../src/fit/choice/explained.js';
import type { Told } from '../../src/fit/fired/told.js';
import { toleranceFor } from '../../src/fit/fired/wanted.js';
import { isToldApart } from '../../src/fit/record.js';
import type { Look } from '../../src/fit/search/look.js';
import type { Looking } from '../../src/fit/search/looking.js';
import { Reckoning } from '../../src/fit/search/reckoning.js';
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
const FLOOR = 10;
/** Frames at which something comes, of which 90 pixels less the level stand out. */
const comes = Array.from({ length: 30 }, (_, i) => 20 + 62 * i + ((i * 7) % 23));
const SHORT = 6;
const visitAt = (k: number, frames = (_: number) => SHORT) =>
  comes.findIndex((frame) => k >= frame && k < frame + frames(frame));

type AreaAt = (level: number, frame: number) => number;
const outstanding: AreaAt = (level, k) => (visitAt(k) < 0 ? 0 : Math.max(0, 90 - level));

/** What explains fired times by evidence that is worked out; the search came to level 20 and area 40. */
async function explained(
  fired: readonly number[],
  region: AreaAt,
  changed: AreaAt,
  cooldowns: readonly number[] = [3],
): Promise<Explained> {
  const columnsOf = (levels: readonly number[], areaAt: AreaAt) =>
    new Map(levels.map((level) => [level, Uint32Array.from(times, (_, k) => areaAt(level, k))]));
  const source: ColumnSource = {
    columns: async (levels, kind) => columnsOf(levels, kind === 'changed' ? changed : region),
    bothColumns: async (levels) => ({
      region: columnsOf(levels, region),
      changed: columnsOf(levels, changed),
    }),
  };
  const told: Told = {
    times: [...fired],
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
    cooldowns,
    cooldownsBy: () => cooldowns,
    floor: FLOOR,
    tried: [tried],
  });
  return found!;
}

describe('an upper limit, where with every fifth of what comes a gust stirs half of the picture and the camera stays silent', () => {
  const isGusty = (i: number) => i % 5 === 2;
  const gusty: AreaAt = (level, k) => outstanding(level, k) + (isGusty(visitAt(k)) ? 8000 : 0);
  const silentInGusts = comes.filter((_, i) => !isGusty(i)).map((frame) => frame / RATE);
  let found: Explained;
  beforeAll(async () => {
    found = await explained(silentInGusts, outstanding, gusty);
  });

  it('is found, and holds for all that is told', () => {
    expect(found.mostChanged).toBeGreaterThan(80);
    expect(found.mostChanged).toBeLessThan(8000);
    expect(found.agreement).toMatchObject({ f1: 1, extra: 0 });
    expect(found.equallyGood.length).toBeGreaterThan(0);
    for (const { mostChanged, f1 } of found.equallyGood) {
      expect(f1).toBe(1);
      expect(mostChanged).toBeLessThan(8000);
    }
  });

  it('is chosen by the first two thirds too: without one it would fire at both gusts of the last third', () => {
    expect(found.heldOut).toBe(1);
  });

  it('leaves threshold and area as open as they are without one', () => {
    const [{ threshold, minimumArea }] = found.equallyGood as [Explained['equallyGood'][number]];
    expect(threshold.from).toBe(FLOOR);
    expect(threshold.to).toBeGreaterThan(42);
    expect(minimumArea.from).toBe(1);
    expect(minimumArea.to).toBeGreaterThan(75);
    expect(isToldApart(found.equallyGood)).toBe(false);
  });
});

it('what does as well is told to where it ends, however far from the best that is, and its middle is taken', async () => {
  // Each threshold with any area up to 90 less it does.
  const all = comes.map((frame) => frame / RATE);
  const { equallyGood, values } = await explained(all, outstanding, () => 0);
  expect(equallyGood).toHaveLength(1);
  const [{ threshold, minimumArea, atLeast }] = equallyGood as [Explained['equallyGood'][number]];
  expect(threshold).toEqual({ from: FLOOR, to: 89 });
  // The last of steps of 1.2 %, none of them wider than one here.
  expect(minimumArea).toEqual({ from: 1, to: 80 });
  // What lies below the lowest threshold that was looked through nobody knows.
  expect(atLeast).toBe(true);
  expect(values.level).toBeGreaterThan(20 * 1.4);
});

it('the last third has no say in what is chosen by the first two: a cooldown that only its long visits tell is not known', async () => {
  // Visits of the first two thirds are shorter than either cooldown, of the last third they last 8 s.
  const lasting = (frame: number) => (frame / RATE > (2 * SECONDS) / 3 ? 40 : 4);
  const areaAt: AreaAt = (level, k) => (visitAt(k, lasting) < 0 ? 0 : Math.max(0, 90 - level));
  const fired: number[] = [];
  for (const [k, time] of times.entries()) {
    if (areaAt(20, k) >= 40 && time >= (fired.at(-1) ?? -6) + 6) fired.push(time);
  }
  const { heldOut, values, agreement } = await explained(fired, areaAt, areaAt, [3, 6]);
  expect(agreement.f1).toBe(1);
  expect(values.cooldown).toBe(6);
  // With 3 s it fires three times at each long visit, not twice.
  expect(heldOut).toBeLessThan(0.8);
});
