import { describe, expect, it } from 'vitest';
import { cameraSchema } from '../../src/camera/description.js';
import { noCounts } from '../../src/score/score.js';
import { truthOf } from '../../src/score/truth.js';
import { setBit, wordsFor } from '../../src/sweep/bits.js';
import { SweepCounts } from '../../src/sweep/counts.js';
import { Grid } from '../../src/sweep/grid.js';
import {
  bestMask,
  chooseMask,
  isProved,
  type MaskSweep,
  type Paired,
  searchOf,
} from '../../src/tune/mask.js';

const grid = new Grid(
  cameraSchema.parse({
    version: 1,
    analysis: { width: 20, height: 10, rate: 5 },
    reference: { kind: 'previous' },
    controls: {
      sensitivity: { sets: 'threshold', from: 1, to: 2, step: 1, gives: [50, 10] },
      small: { sets: 'minimumArea', choices: [4] },
      pause: { sets: 'cooldown', choices: [5] },
    },
  }),
);
const allowance = { kind: 'allowance', falsePerHour: 6 } as const;
const BLOCKS = 8;
const VISITS = 4;

/** Half an hour of four visits; by setting how many were caught and how often it fired falsely. */
function counted(blocks: number, caught: readonly number[], falseTriggers: readonly number[]): SweepCounts {
  const visits = Array.from({ length: VISITS * blocks }, (_, i) => ({ start: 2 * i, end: 2 * i + 1 }));
  const labels = {
    version: 1 as const,
    visits: visits.map((visit) => ({ ...visit, type: 'animal' as const })),
  };
  const counts = new SweepCounts(grid.size, truthOf(labels, 1800 * blocks));
  caught.forEach((n, setting) => {
    const bits = new Uint32Array(wordsFor(visits.length));
    for (let visit = 0; visit < n; visit++) setBit(bits, visit);
    counts.set(setting, { ...noCounts, caught: n, falseTriggers: falseTriggers[setting]! }, bits);
  });
  return counts;
}

/** One clip of which each block is told by itself; the low dial catches one visit a block and never fires falsely. */
function clipOf(highFalse: (block: number) => number) {
  const falses = Array.from({ length: BLOCKS }, (_, block) => highFalse(block));
  const all = falses.reduce((a, b) => a + b, 0);
  return {
    whole: counted(BLOCKS, [BLOCKS, 3 * BLOCKS], [0, all]),
    blocks: falses.map((n) => counted(1, [1, 3], [0, n])),
  };
}
const bare = clipOf(() => 60);
const polygon: [number, number][] = [
  [0, 0],
  [0.5, 0],
  [0, 0.5],
];
const maskOf = (
  foundBy: number[],
  highFalse: (block: number) => number,
): MaskSweep<ReturnType<typeof clipOf>> => ({
  mask: [polygon],
  polygons: [polygon],
  foundBy,
  clips: [clipOf(highFalse)],
});

describe('a mask beside the dials', () => {
  it('is recommended, with the setting that it makes room for, where it holds on every block', () => {
    const [first, second] = [maskOf([0], () => 0), maskOf([1], () => 0)];
    const choice = chooseMask([bare], [first, second], grid, allowance);
    expect(choice).toEqual({ mask: first, setting: 1 });
  });

  it('is not where it gains only on the blocks that it was found on', () => {
    // Quiet over the search's own blocks; it is judged on the others, where it changes nothing.
    const lucky = [0, 1].map((search) =>
      maskOf([search], (block) => (searchOf(0, block) === search ? 0 : 60)),
    );
    expect(chooseMask([bare], lucky, grid, { kind: 'worth', photos: 10, photosPerTrigger: 1 })).toBeNull();
  });

  it('is not where only one search found it and the other half shows no gain', () => {
    const half = maskOf([0], (block) => (searchOf(0, block) === 0 ? 0 : 60));
    expect(chooseMask([bare], [half], grid, allowance)).toBeNull();
  });

  it('is not where the only clip is one block, without which nothing is left to choose from', () => {
    const oneBlock = (falseTriggers: number) => {
      const whole = counted(1, [1, 3], [0, falseTriggers]);
      return { whole, blocks: [whole] };
    };
    const mask = { ...maskOf([0, 1], () => 0), clips: [oneBlock(0)] };
    expect(chooseMask([oneBlock(60)], [mask], grid, allowance)).toBeNull();
    expect(
      bestMask([oneBlock(60).whole], [{ mask, parts: [oneBlock(0).whole] }], grid, allowance),
    ).not.toBeNull();
  });

  it('is not where there is none to try', () => {
    expect(chooseMask([bare], [], grid, allowance)).toBeNull();
  });
});

describe('the proof on blocks left out', () => {
  const does = (caught: number, falseTriggers: number) => ({
    caught,
    falseTriggers,
    expected: { caught, falseTriggers },
  });
  const block = (more: number, falseTriggers = 0): Paired => ({
    bare: does(1, 0),
    masked: does(1 + more, falseTriggers),
    watchedHours: 0.5,
  });

  it('asks for more than a visit or two', () => {
    const few = [1, 1, 0, 0, 0, 0, 0, 0].map((more) => block(more));
    const many = [1, 1, 1, 0, 1, 0, 1, 1].map((more) => block(more));
    expect([isProved(few, 2, allowance), isProved(many, 6, allowance)]).toEqual([false, true]);
  });

  it('weighs what was left out more than what it was chosen on', () => {
    const nothing = Array.from({ length: 8 }, () => block(0));
    const little = [1, 1, 0, 0, 0, 0, 0, 0].map((more) => block(more));
    expect([isProved(nothing, 4, allowance), isProved(little, 8, allowance)]).toEqual([false, true]);
  });

  it('goes by what lies around the settings, not by single visits', () => {
    const around = (own: number, more: number): Paired => ({
      ...block(own),
      masked: { ...does(1 + own, 0), expected: { caught: 1 + more, falseTriggers: 0 } },
    });
    const blocks = (own: number, more: number) => Array.from({ length: 8 }, () => around(own, more));
    expect([isProved(blocks(1, 0), 2, allowance), isProved(blocks(0, 1), 2, allowance)]).toEqual([
      false,
      true,
    ]);
  });

  it('does not take visits bought with more false triggers than are allowed', () => {
    const bought = [3, 4].map((falseTriggers) =>
      isProved(
        Array.from({ length: 8 }, () => block(1, falseTriggers)),
        8,
        allowance,
      ),
    );
    // Six an hour are three in half an hour.
    expect(bought).toEqual([true, false]);
  });

  it('does not take more than are allowed for as many as without, where they come in too few blocks to be told apart', () => {
    const [allowed, over] = [19, 20].map((most) =>
      isProved(
        [most, 5, 0, 0, 0, 0, 0, 0].map((falseTriggers) => block(1, falseTriggers)),
        8,
        allowance,
      ),
    );
    // 24 in eight half hours; without the mask there are none.
    expect([allowed, over]).toEqual([true, false]);
  });

  it('counts false triggers against visits where there is no allowance', () => {
    const goal = { kind: 'worth', photos: 10, photosPerTrigger: 2 } as const;
    const bought = [2, 6].map((falseTriggers) =>
      isProved(
        Array.from({ length: 8 }, () => block(1, falseTriggers)),
        8 - (8 * falseTriggers) / 5,
        goal,
      ),
    );
    expect(bought).toEqual([true, false]);
  });
});
