import type { Polygon } from '../engine/mask.js';
import { t90 } from '../score/student.js';
import type { SweepCounts } from '../sweep/counts.js';
import type { Grid } from '../sweep/grid.js';
import { expectedOf } from './expected.js';
import { type Goal, worthOf } from './goal.js';
import { poolOf } from './pool.js';
import { OWN_SCORE } from './predict.js';
import { recommend } from './recommend.js';

/** Searches for masks: each sees the blocks of time that the other does not. */
export const SEARCHES = 2;

/** The search that may see a block of time; the other's masks are tried on it. */
export function searchOf(clip: number, block: number): number {
  return (clip + block) % SEARCHES;
}

/** A clip under every setting, as a whole and block by block. */
interface Blocks {
  whole: SweepCounts;
  blocks: readonly SweepCounts[];
}

/** A mask that may be added at a site, swept. */
export interface MaskSweep<B extends Blocks = Blocks> {
  /** All that is not watched under it: the owner's own polygons first. */
  mask: Polygon[];
  /** Those that are new. */
  polygons: Polygon[];
  /** The searches that found it. */
  foundBy: readonly number[];
  /** The clips of the site under it, in their order. */
  clips: B[];
}

/** What is chosen of all masks and settings. */
export interface MaskChoice<B extends Blocks> {
  mask: MaskSweep<B>;
  /** The setting under it, by its number in the grid. */
  setting: number;
}

/**
 * The mask to recommend, with the setting under it; null where none is proved. (mask, setting) is one choice: for each mask
 * the setting is recommended as it is without, and the mask is taken whose setting is expected to be worth most.
 *
 * It is proved on blocks of time of all clips. Each is left out in turn, and both the choice without a new mask and that
 * among all masks are made from the rest. Of masks only those take part that were found without seeing that block, on half of
 * the footage. So masks, mask and setting are all chosen without it; only the grid and what masks may look like are given.
 * Blocks and not clips are left out, however many clips there are: a mask belongs to a place, and with two clips, a calm and
 * a windy one, either alone says nothing of the other. As a setting is chosen, so it is tried: by what its neighbourhood does
 * on the block, in which single visits weigh less. What is left out says too little of the gain, for masks found on half of
 * the footage are worse, and all the footage says too much: the two are weighed as they are where recall is foretold. The gain
 * must be above 0, the lower end of its paired 80 % interval over the blocks not below 0. Within an allowance false triggers on
 * them must keep it, or be no more than without. That they are not told to be more, by an interval, is not enough: of few
 * nothing is told, and what stirs now here and now there, as moths do, is hidden only where it was seen. Each wish is held against
 * its own choice without a mask: to be sure of an allowance a mask may pay that, were it not to be sure, gains nothing over settings
 * that fire more often.
 */
export function chooseMask<B extends Blocks>(
  clips: readonly Blocks[],
  masks: readonly MaskSweep<B>[],
  grid: Grid,
  goal: Goal,
): MaskChoice<B> | null {
  const wholes = clips.map(({ whole }) => whole);
  const all = masks.map((mask) => ({ mask, parts: mask.clips.map(({ whole }) => whole) }));
  const best = bestMask(wholes, all, grid, goal);
  if (!best || !isProved(leftOutInTurn(clips, masks, grid, goal), best.gain, goal)) return null;
  return { mask: best.mask, setting: best.setting };
}

/** A mask and the setting under it. */
interface Best<M> {
  mask: M;
  setting: number;
  /** What its neighbourhood is expected to gain over that of the setting without a mask, on this footage; in visits. */
  gain: number;
}

/** The mask and setting expected to be worth most; null where no mask is expected to be worth more than none. */
export function bestMask<M>(
  bare: readonly SweepCounts[],
  masks: readonly { mask: M; parts: readonly SweepCounts[] }[],
  grid: Grid,
  goal: Goal,
): Best<M> | null {
  const without = recommend(poolOf(bare), grid, goal);
  let most = without.worth;
  let best: Best<M> | null = null;
  for (const { mask, parts } of masks) {
    const { setting, worth, expected } = recommend(poolOf(parts), grid, goal);
    if (!(worth > most + 1e-9)) continue;
    most = worth;
    best = { mask, setting, gain: inVisits(expected, goal) - inVisits(without.expected, goal) };
  }
  return best;
}

/** What was chosen without a block does on it, with a new mask and without. */
export interface Paired {
  masked: Given;
  bare: Given;
  watchedHours: number;
}

interface Does {
  /** Not by luck, as far as that can be told. */
  caught: number;
  falseTriggers: number;
}

interface Given extends Does {
  /** What the setting's neighbourhood does there. */
  expected: Does;
}

/**
 * What is chosen without each block, tried on it: of masks only those that were found without it take part. None where there is
 * one block alone, as where a camera's reference remembers longer than half the only clip.
 */
export function leftOutInTurn(
  clips: readonly Blocks[],
  masks: readonly MaskSweep<Blocks>[],
  grid: Grid,
  goal: Goal,
): Paired[] {
  const all = clips.flatMap(({ blocks }, clip) => blocks.map((_, block) => ({ clip, block })));
  // Without the only one there is nothing left to choose from.
  if (all.length === 1) return [];
  return all.map((left) => {
    const rest = (of: readonly Blocks[]) =>
      all.flatMap((unit) => (unit === left ? [] : [of[unit.clip]!.blocks[unit.block]!]));
    const here = (of: readonly Blocks[]) => of[left.clip]!.blocks[left.block]!;
    const unseenBy = masks.filter(({ foundBy }) =>
      foundBy.some((search) => search !== searchOf(left.clip, left.block)),
    );
    const parts = unseenBy.map((mask) => ({ mask, parts: rest(mask.clips) }));
    const bare = given(here(clips), recommend(poolOf(rest(clips)), grid, goal).setting, grid);
    const best = bestMask(rest(clips), parts, grid, goal);
    const masked = best ? given(here(best.mask.clips), best.setting, grid) : bare;
    return { masked, bare, watchedHours: here(clips).truth.watchedSeconds / 3600 };
  });
}

function given(counts: SweepCounts, setting: number, grid: Grid): Given {
  const { caught, falseTriggers } = expectedOf(poolOf([counts]), grid);
  return {
    caught: counts.own[setting]!,
    falseTriggers: counts.falseTriggers[setting]!,
    expected: { caught: caught[setting]!, falseTriggers: falseTriggers[setting]! },
  };
}

/** Fewer blocks say nothing of how blocks differ. */
const FEWEST_BLOCKS = 4;

/**
 * Whether a new mask's gain holds on what was left out.
 * @param own gain on all the footage that mask and setting were chosen on, in visits
 */
export function isProved(blocks: readonly Paired[], own: number, goal: Goal): boolean {
  if (blocks.length < FEWEST_BLOCKS) return false;
  const gains = blocks.map(
    ({ masked, bare }) => inVisits(masked.expected, goal) - inVisits(bare.expected, goal),
  );
  const gain = OWN_SCORE * own + (1 - OWN_SCORE) * sum(gains);
  if (!(gain > 0 && gain >= halfWidth(gains))) return false;
  return goal.kind === 'worth' || keepsOrNoMore(blocks, goal.falsePerHour);
}

/** Whether false triggers keep the allowance, or are no more than without a new mask. */
function keepsOrNoMore(blocks: readonly Paired[], falsePerHour: number): boolean {
  const allowed = falsePerHour * sum(blocks.map(({ watchedHours }) => watchedHours));
  const without = sum(blocks.map(({ bare }) => bare.falseTriggers));
  return sum(blocks.map(({ masked }) => masked.falseTriggers)) <= Math.max(allowed + 1e-9, without);
}

/** Half the width of the 80 % interval of what such differences add up to in the long run, over as many blocks. */
function halfWidth(differences: readonly number[]): number {
  const n = differences.length;
  const mean = sum(differences) / n;
  const squares = sum(differences.map((difference) => (difference - mean) ** 2));
  // One more is added: few that agree do not make certain.
  return t90(n - 1) * Math.sqrt((n / (n - 1)) * squares + 1);
}

function sum(figures: readonly number[]): number {
  return figures.reduce((all, figure) => all + figure, 0);
}

function inVisits({ caught, falseTriggers }: Does, goal: Goal): number {
  return goal.kind === 'worth' ? worthOf(caught, falseTriggers, goal) / goal.photos : caught;
}
