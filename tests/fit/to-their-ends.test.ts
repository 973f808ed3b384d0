import { expect, it } from 'vitest';
import { toTheirEnds } from '../../src/fit/choice/to-their-ends.js';
import { placeOf, scoreAll, valuesAt } from '../../src/fit/score/scores.js';
import type { Looking } from '../../src/fit/search/looking.js';

const times = Float64Array.from({ length: 500 }, (_, k) => k / 5);
/** Something comes every 8 s for six frames, of which 40 pixels less the level stand out, and 500 of all there are. */
const comes = (k: number) => k % 40 >= 34;
const columnsOf = (levels: readonly number[], most: number) =>
  new Map(
    levels.map((level) => [
      level,
      Uint32Array.from(times, (_, k) => (comes(k) ? Math.max(0, most - level) : 0)),
    ]),
  );
const bothColumns = async (levels: readonly number[]) => ({
  region: columnsOf(levels, 40),
  changed: columnsOf(levels, 500),
});
const source = { bothColumns, columns: async (levels: readonly number[]) => columnsOf(levels, 40) };
const look = {
  width: 80,
  height: 60,
  smooth: 1,
  reference: { kind: 'previous', lag: 1 },
  whileBusy: 'continues',
} as const;
const wanted = {
  fired: times.filter((_, k) => k % 40 === 34),
  tolerance: { most: 2, free: 2, span: null },
  from: 0,
  to: 100,
};
const axes = {
  kinds: ['region'] as const,
  levels: [15, 16],
  areas: [10, 11],
  persistences: [1, 2],
  cooldowns: [2],
};

/** From the least to the most that do, of all values that were looked through at last. */
async function reached(mostChanged: number | null, given: typeof axes = axes) {
  const begun = scoreAll(await bothColumns(given.levels), times, given, wanted, 'exactly', mostChanged);
  const course = { looking: { times } as unknown as Looking, floor: 12 };
  const all = await toTheirEnds({ source, look }, begun, 1, course, wanted, mostChanged);
  const good = [...all.values.keys()].filter((i) => all.values[i]! >= 1);
  const values = good.map((i) => valuesAt(all.axes, placeOf(all, i)));
  const ends = (of: (one: (typeof values)[number]) => number) => [
    Math.min(...values.map(of)),
    Math.max(...values.map(of)),
  ];
  return {
    levels: ends(({ level }) => level),
    areas: ends(({ area }) => area),
    persistences: ends(({ persistence }) => persistence),
  };
}

it('looks beyond an end that does as well until it does not: thresholds, areas and persistences', async () => {
  // Down to the lowest level there is; 12 leaves 28 pixels, 39 one.
  expect(await reached(null)).toEqual({ levels: [12, 39], areas: [1, 28], persistences: [1, 6] });
});

it('of one persistence the others beside it were found wanting before', async () => {
  expect((await reached(null, { ...axes, persistences: [1] })).persistences).toEqual([1, 1]);
});

it('under an upper limit what lies beyond is held by that too', async () => {
  // All that changed, 500 less the level, is within the limit from level 14 on.
  expect(await reached(486)).toEqual({ levels: [14, 39], areas: [1, 26], persistences: [1, 6] });
});
