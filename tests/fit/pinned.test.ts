import { expect, it } from 'vitest';
import { pinDown } from '../../src/fit/choice/pinned.js';
import type { Told } from '../../src/fit/fired/told.js';
import { toleranceFor, wantedBy } from '../../src/fit/fired/wanted.js';
import { hold } from '../../src/fit/search/holding.js';
import type { Look } from '../../src/fit/search/look.js';
import type { Looking } from '../../src/fit/search/looking.js';
import { Reckoning } from '../../src/fit/search/reckoning.js';
import type { Tried } from '../../src/fit/search/tried.js';
import type { AreaKind, ColumnSource } from '../../src/sweep/columns.js';

const RATE = 5;
const SECONDS = 400;
const FRAMES = SECONDS * RATE;
const times = Float64Array.from({ length: FRAMES }, (_, k) => k / RATE);
const look: Look = {
  width: 160,
  height: 120,
  smooth: 1,
  reference: { kind: 'previous', lag: 1 },
  whileBusy: 'continues',
};

/** Evidence that is worked out, the same for both ways of counting. */
function sourceOf(areaAt: (level: number, frame: number) => number): ColumnSource {
  const at = (levels: readonly number[]) =>
    new Map(levels.map((level) => [level, Uint32Array.from(times, (_, k) => Math.max(0, areaAt(level, k)))]));
  const columns = async (levels: readonly number[]) => at(levels);
  return {
    columns,
    bothColumns: async (levels) =>
      ({ region: at(levels), changed: at(levels) }) satisfies Record<AreaKind, unknown>,
  };
}

function toldOf(fired: readonly number[], ahead: number): Told {
  const seen = fired.map((time) => Math.floor(time + ahead));
  return { times: seen, isPlaced: true, quantum: 1, given: seen.length, burst: null, assumed: [] };
}

/** Frames at which something comes, irregularly, so that times in whole seconds begin anywhere within theirs. */
const comes = Array.from({ length: 30 }, (_, i) => 20 + 62 * i + ((i * 7) % 23));
const since = (k: number) => {
  const last = comes.findLast((frame) => frame <= k);
  return last === undefined ? Number.POSITIVE_INFINITY : k - last;
};

it('tells values apart that fire at all times within a tolerance, by what whole seconds leave open', async () => {
  // Half of what comes swells: a minimum area above 36 fires at it a frame later, and misses nothing.
  const isSlow = (k: number) => (comes.findLast((frame) => frame <= k) ?? 0) % 2 === 0;
  const slowly = [30, 36, 80, 80, 80, 80];
  const source = sourceOf((level, k) => (since(k) < 6 ? (isSlow(k) ? slowly[since(k)]! : 90) - level : 0));
  const fired = comes.map((frame) => (frame + (frame % 2 === 0 ? 1 : 0)) / RATE);
  const told = toldOf(fired, 0.45);
  const tolerance = toleranceFor(told, RATE, undefined);
  const clock = { offset: -0.05, drift: 0 };
  const values = { kind: 'region' as const, level: 10, area: 50, persistence: 1, cooldown: 3 };
  const tried: Tried = {
    look,
    busy: null,
    source,
    best: { place: [0, 0, 0, 0, 0], values, most: 1, own: 1 },
    clock,
    worth: 1,
  };
  const course = {
    looking: { times } as unknown as Looking,
    reckoning: new Reckoning(times.length, look, [look], () => undefined),
    tolerance,
    cooldowns: [3],
    cooldownsBy: () => [3],
    floor: 10,
    tried: [tried],
  };
  const wanted = wantedBy(told, clock, tolerance, [0, SECONDS]);
  const pinned = await pinDown(tried, course, wanted, 0.01);
  const { best } = pinned[0]!;
  expect(best.own).toBe(1);
  const { level, area } = best.values;
  expect(area + level).toBeGreaterThan(30);
  expect(area + level).toBeLessThanOrEqual(36);
});

it('gives a description a clock of its own, for one that is right for others may be off by most of a second', async () => {
  // Most of what comes changes more four frames later, when the camera that is sought is still busy.
  const isLarger = (k: number) =>
    since(k) >= 4 && since(k) < 6 && comes.findLastIndex((frame) => frame <= k) % 4 !== 0;
  const source = sourceOf((level, k) => (isLarger(k) ? 300 - level : since(k) < 2 ? 80 - level : 0));
  const told = toldOf(
    comes.map((frame) => frame / RATE),
    3.1,
  );
  const held = await hold({ look, busy: null }, source, {
    told,
    clock: { offset: 2.6 - 0.8, drift: 0 },
    floor: 3,
    cooldowns: [1, 3],
    tolerance: toleranceFor(told, RATE, undefined),
    times,
    rate: RATE,
    seconds: SECONDS,
  });
  expect(held!.best.own).toBe(1);
  expect(Math.abs(held!.clock.offset - 2.6)).toBeLessThan(0.5);
});
