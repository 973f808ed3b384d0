import { expect, it } from 'vitest';
import { dialsOf, Grid } from '../../src/sweep/grid.js';
import { chooseBest } from '../../src/tune/choose.js';
import type { Goal } from '../../src/tune/goal.js';
import { poolOf } from '../../src/tune/pool.js';
import { recommend } from '../../src/tune/recommend.js';
import { tellsOf } from '../../src/tune/tells.js';
import { unseenOf } from '../../src/tune/unseen.js';
import { type Case, casesOf } from './cases.js';
import { holds, kept, lostIn, rate, recall } from './figures.js';
import { family, type Kind, kinds } from './plan.js';
import { Tally } from './tally.js';
import { remembering } from './windows.js';

/** False triggers an hour: a strict owner, one with a large card, and one who minds little. */
const allowances = [30, 60, 120];
const goals: { name: string; goals: Goal[] }[] = [
  { name: 'allowance', goals: allowances.map((falsePerHour) => ({ kind: 'allowance', falsePerHour })) },
  {
    name: 'allowance, sure 0.9',
    goals: allowances.map((falsePerHour) => ({ kind: 'allowance', falsePerHour, sure: 0.9 })),
  },
  { name: 'worth', goals: [5, 10, 20].map((photos) => ({ kind: 'worth', photos, photosPerTrigger: 2 })) },
];
/** Seconds of each of the two clips that are tuned on. */
const clipSeconds = [150, 300];

it.each(kinds.filter(({ sites }) => sites > 0))('judges recommendations on $name', async (kind) => {
  const tallies = await judged(kind);
  console.log(`\n### ${kind.name}: family ${family}, ${kind.sites} sites\n`);
  console.log('| | mean ± half a 90 % interval over sites | cases |\n|---|---|---|');
  for (const [name, t] of tallies) console.log(`| ${name} | ${t.text()} | ${t.cases} |`);
  expect(tallies.size).toBeGreaterThan(0);
});

async function judged({ camera, sites, filmOf }: Kind): Promise<Map<string, Tally>> {
  const tallies = new Map<string, Tally>();
  const grid = new Grid(camera, dialsOf(camera));
  for (let site = 0; site < sites; site++) {
    const film = remembering(await filmOf(site));
    const add = (name: string, value: number) => {
      const tally = tallies.get(name) ?? new Tally();
      tallies.set(name, tally);
      tally.add(site, value);
    };
    for (const seconds of clipSeconds) {
      const minutes = `${seconds / 30} min`;
      for (const tried of await casesOf(film, seconds, grid, camera)) {
        add(`${minutes}: visits tuned on`, poolOf(tried.tuned.map((w) => w.whole)).visits);
        for (const { name, goals: all } of goals) {
          for (const goal of all)
            judgeCase(tried, grid, goal, (what, x) => add(`${minutes}, ${name}: ${what}`, x));
        }
      }
    }
  }
  return tallies;
}

function judgeCase(
  { tuned, next, longRun }: Case,
  grid: Grid,
  goal: Goal,
  add: (what: string, value: number) => void,
) {
  const pool = poolOf(tuned.map(({ whole }) => whole));
  const hindsight = chooseBest(longRun, goal);
  const plain = chooseBest(pool, goal).setting;
  const { setting } = recommend(pool, grid, goal);
  const lost = goal.kind === 'worth' ? 'photos of nothing a visit lost' : 'recall lost';
  if (hindsight.kept) {
    for (const [when, seen] of [
      ['as much again', next],
      ['long run', longRun],
    ] as const) {
      const [by, byPlain] = [setting, plain].map((s) => lostIn(seen, hindsight.setting, s, goal)) as [
        number,
        number,
      ];
      add(`${lost}, ${when}: plain`, byPlain);
      add(`${lost}, ${when}: recommended`, by);
      add(`${lost}, ${when}: recommended less plain`, by - byPlain);
      if (goal.kind === 'worth') continue;
      add(`kept, ${when}: plain`, kept(seen, plain, goal));
      add(`kept, ${when}: recommended`, kept(seen, setting, goal));
      add(`overshoot, ${when}: plain`, Math.max(0, rate(seen, plain) / goal.falsePerHour - 1));
      add(`overshoot, ${when}: recommended`, Math.max(0, rate(seen, setting) / goal.falsePerHour - 1));
    }
  }
  const unseen = unseenOf(tuned, setting, grid, goal, recommend);
  add('says too little', tellsOf(pool.visits, unseen) === 'too little' ? 1 : 0);
  if (unseen.recall) {
    add('90 % recall held', holds(unseen.recall, recall(next, setting)));
    add('90 % recall width', unseen.recall.high - unseen.recall.low);
  }
  if (unseen.falsePerHour) {
    add('90 % false an hour held', holds(unseen.falsePerHour, rate(next, setting)));
  }
}
