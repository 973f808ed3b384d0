import { expect, it, vi } from 'vitest';
import { sweepCamera } from '../../src/sweep/for-camera.js';
import { dialsOf, Grid } from '../../src/sweep/grid.js';
import { sweepClip } from '../../src/sweep/sweep.js';
import { blurred } from '../../src/tune/blur.js';
import { chooseBest } from '../../src/tune/choose.js';
import * as expecting from '../../src/tune/expected.js';
import type { Goal } from '../../src/tune/goal.js';
import { type Pool, poolOf } from '../../src/tune/pool.js';
import { recommend } from '../../src/tune/recommend.js';
import type { Swept } from '../../src/tune/site-result.js';
import { unseenOf } from '../../src/tune/unseen.js';
import { holds, kept, lostIn, rate, recall } from './figures.js';
import type { Film } from './film.js';
import { type Sharp, sharpOf } from './peaks.js';
import { family, type Kind, kinds } from './plan.js';
import { caughtByMargins, deepened, falseByTails } from './tails.js';
import { Tally } from './tally.js';
import { windowOf } from './window.js';
import { remembering } from './windows.js';

/**
 * Whether choosing by the margins of visits and by extreme-value tails of the background beats choosing by smoothed
 * counts. Everything after what is expected of a setting is the program's own: only that is put in its place.
 */
vi.mock('../../src/tune/expected.js', { spy: true });

type Expected = expecting.Expected;
/** From today's expectation and what the clips tell sharply, another. */
type Way = (today: Expected, pool: Pool, clips: readonly Sharp[], grid: Grid) => Partial<Expected>;

const ways: Record<string, Way> = {
  today: () => ({}),
  'in place of the smoothing': (_, pool, clips, grid) => ({
    falseTriggers: falseByTails(clips, grid, pool.falseTriggers),
  }),
  'under the smoothing': (_, pool, clips, grid) => ({
    caught: blurred(caughtByMargins(clips, grid, pool.own), grid, 1),
    falseTriggers: smoothed(falseByTails(clips, grid, pool.falseTriggers), grid),
  }),
  'half and half': (today, pool, clips, grid) => ({
    caught: blurred(caughtByMargins(clips, grid, pool.own), grid, 1),
    falseTriggers: between(falseByTails(clips, grid, pool.falseTriggers), today.falseTriggers),
  }),
  'half and half, counts only': (today, pool) => ({
    falseTriggers: between(pool.falseTriggers, today.falseTriggers),
  }),
};

/** As expected.ts smooths false triggers. */
function smoothed(falseTriggers: Float64Array, grid: Grid): Float64Array {
  const logs = falseTriggers.map((n) => Math.log(n + 0.5));
  return blurred(blurred(logs, grid, 0.5), grid, 0.5).map((log) => Math.max(0, Math.exp(log) - 0.5));
}

/** The geometric mean, half a trigger added. */
function between(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((x, i) => Math.max(0, Math.sqrt((x + 0.5) * (b[i]! + 0.5)) - 0.5));
}

const allowances = [30, 60, 120];
const goals: { name: string; goals: Goal[] }[] = [
  { name: 'allowance', goals: allowances.map((falsePerHour) => ({ kind: 'allowance', falsePerHour })) },
  {
    name: 'allowance, sure 0.9',
    goals: allowances.map((falsePerHour) => ({ kind: 'allowance', falsePerHour, sure: 0.9 })),
  },
  { name: 'worth', goals: [5, 10, 20].map((photos) => ({ kind: 'worth', photos, photosPerTrigger: 2 })) },
];

it.each(kinds.filter(({ sites }) => sites > 0))('tries tails on $name', async (kind) => {
  const tallies = new Map<string, Map<string, { plain: Tally; less: Tally }>>();
  for (let site = 0; site < kind.sites; site++) {
    const film = remembering(await kind.filmOf(site));
    for (const seconds of [150, 300]) {
      await tryOn(film, seconds, kind, (what, by) => {
        const row = tallies.get(`${seconds / 30} min, ${what}`) ?? new Map();
        tallies.set(`${seconds / 30} min, ${what}`, row);
        for (const [way, value] of by) {
          const cell = row.get(way) ?? { plain: new Tally(), less: new Tally() };
          row.set(way, cell);
          cell.plain.add(site, value);
          cell.less.add(site, value - by.get('today')!);
        }
      });
    }
  }
  const names = Object.keys(ways);
  console.log(`\n### ${kind.name}: family ${family}, ${kind.sites} sites; less today, paired\n`);
  console.log(`| | ${names.join(' | ')} |\n|---${'|---'.repeat(names.length)}|`);
  for (const [what, row] of tallies) {
    const cells = names.map((way) => {
      const { plain, less } = row.get(way)!;
      return way === 'today' ? plain.mean.toFixed(3) : less.text();
    });
    console.log(`| ${what} | ${cells.join(' | ')} |`);
  }
  expect(tallies.size).toBeGreaterThan(0);
});

/** @param add a figure by way; told only what every way has */
async function tryOn(
  film: Film,
  seconds: number,
  { camera }: Kind,
  add: (what: string, by: Map<string, number>) => void,
): Promise<void> {
  const grid = new Grid(camera, dialsOf(camera));
  const clips: (Swept & { sharp: Sharp })[] = [];
  for (let start = 0; start + seconds <= film.seconds + 1e-9; start += seconds) {
    const clip = windowOf(film, start, start + seconds, camera);
    const [whole] = await sweepClip(clip, grid, sweepCamera(camera));
    clips.push({ whole, blocks: [], sharp: await sharpOf(clip, deepened(camera, grid), camera) });
  }
  const pairs = Math.floor(clips.length / 2);
  const pair = (i: number) => clips.slice(2 * (i % pairs), 2 * (i % pairs) + 2);
  const pooled = (from: number, many: number) =>
    poolOf(Array.from({ length: many }, (_, j) => pair(from + j).map(({ whole }) => whole)).flat());
  for (let i = 0; i < pairs; i++) {
    const tuned = pair(i);
    const next = pooled(i + 1, 1);
    const longRun = pooled(i + 1, Math.min(10, pairs - 1));
    const instead = Object.entries(ways).map(([way, of]) => ({
      way,
      expectedOf: expectedBy(of, tuned, grid),
    }));
    for (const { name, goals: all } of goals) {
      for (const goal of all) {
        const figures = new Map<string, Map<string, number>>();
        for (const { way, expectedOf } of instead) {
          vi.mocked(expecting.expectedOf).mockImplementation(expectedOf);
          for (const [what, value] of judged(tuned, next, longRun, grid, goal)) {
            const by = figures.get(what) ?? new Map<string, number>();
            figures.set(what, by.set(way, value));
          }
        }
        for (const [what, by] of figures) {
          if (by.size === instead.length) add(`${name}: ${what}`, by);
        }
      }
    }
  }
}

/** What is expected of some of the clips that are tuned on, each pool of them worked out once. */
function expectedBy(way: Way, tuned: readonly (Swept & { sharp: Sharp })[], grid: Grid) {
  const known = new Map<string, Expected>();
  return (pool: Pool): Expected => {
    const clips = tuned.filter((clip) => tuned.length === pool.units || isAlone(clip, pool));
    const key = clips.map((clip) => tuned.indexOf(clip)).join();
    const before = known.get(key);
    if (before) return before;
    const today = actual.expectedOf(pool, grid);
    const sharps = clips.map(({ sharp }) => sharp);
    const made = { ...today, ...way(today, pool, sharps, grid) };
    known.set(key, made);
    return made;
  };
}

/** Whether a pool of one clip is that clip. */
function isAlone({ whole }: Swept, pool: Pool): boolean {
  return (
    pool.units === 1 &&
    whole.falseTriggers.every((n, i) => n === pool.falseTriggers[i]) &&
    whole.caught.every((n, i) => n === pool.caught[i])
  );
}

const actual = await vi.importActual<typeof expecting>('../../src/tune/expected.js');

function* judged(
  tuned: readonly Swept[],
  next: Pool,
  longRun: Pool,
  grid: Grid,
  goal: Goal,
): Iterable<[what: string, value: number]> {
  const { setting } = recommend(poolOf(tuned.map(({ whole }) => whole)), grid, goal);
  const hindsight = chooseBest(longRun, goal);
  if (hindsight.kept) {
    const lost = goal.kind === 'worth' ? 'photos of nothing a visit lost' : 'recall lost';
    yield [lost, lostIn(longRun, hindsight.setting, setting, goal)];
    if (goal.kind === 'allowance') {
      yield ['overshoot', Math.max(0, rate(longRun, setting) / goal.falsePerHour - 1)];
      yield ['kept', kept(longRun, setting, goal)];
    }
  }
  const { recall: caught, falsePerHour } = unseenOf(tuned, setting, grid, goal, recommend);
  if (caught) yield ['90 % recall held', holds(caught, recall(next, setting))];
  if (caught) yield ['90 % recall width', caught.high - caught.low];
  if (falsePerHour) yield ['90 % false an hour held', holds(falsePerHour, rate(next, setting))];
}
