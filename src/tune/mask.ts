import type { Polygon } from '../engine/mask.js';
import { t95 } from '../score/student.js';
import type { SweepCounts } from '../sweep/counts.js';
import type { Grid } from '../sweep/grid.js';
import { type Goal, worthOf } from './goal.js';
import { poolOf } from './pool.js';
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
 * a windy one, either alone says nothing of the other. The gain over the blocks must be above 0, the lower end of its
 * paired 90 % interval not below 0. Within an allowance false triggers on them must keep it, or not be told to be more than
 * without, by the same interval: the blocks are too short to tell it from one that is just kept.
 */
export function chooseMask<B extends Blocks>(
  clips: readonly Blocks[],
  masks: readonly MaskSweep<B>[],
  grid: Grid,
  goal: Goal,
): MaskChoice<B> | null {
  const best = bestMask(
    clips.map(({ whole }) => whole),
    masks.map((mask) => ({ mask, parts: mask.clips.map(({ whole }) => whole) })),
    grid,
    goal,
  );
  if (!best || !isProved(leftOutInTurn(clips, masks, grid, goal), goal)) return null;
  return best;
}

/** The mask and setting expected to be worth most; null where no mask is expected to be worth more than none. */
export function bestMask<M>(
  bare: readonly SweepCounts[],
  masks: readonly { mask: M; parts: readonly SweepCounts[] }[],
  grid: Grid,
  goal: Goal,
): { mask: M; setting: number } | null {
  let most = recommend(poolOf(bare), grid, goal).worth;
  let best: { mask: M; setting: number } | null = null;
  for (const { mask, parts } of masks) {
    const { setting, worth } = recommend(poolOf(parts), grid, goal);
    if (!(worth > most + 1e-9)) continue;
    most = worth;
    best = { mask, setting };
  }
  return best;
}

/** What was chosen without a block does on it, with a new mask and without. */
export interface Paired {
  masked: Given;
  bare: Given;
  watchedHours: number;
}

interface Given {
  /** Not by luck, as far as that can be told. */
  caught: number;
  falseTriggers: number;
}

/** What is chosen without each block, tried on it: of masks only those that were found without it take part. */
export function leftOutInTurn(
  clips: readonly Blocks[],
  masks: readonly MaskSweep<Blocks>[],
  grid: Grid,
  goal: Goal,
): Paired[] {
  const all = clips.flatMap(({ blocks }, clip) => blocks.map((_, block) => ({ clip, block })));
  return all.map((left) => {
    const rest = (of: readonly Blocks[]) =>
      all.flatMap((unit) => (unit === left ? [] : [of[unit.clip]!.blocks[unit.block]!]));
    const here = (of: readonly Blocks[]) => of[left.clip]!.blocks[left.block]!;
    const unseenBy = masks.filter(({ foundBy }) =>
      foundBy.some((search) => search !== searchOf(left.clip, left.block)),
    );
    const parts = unseenBy.map((mask) => ({ mask, parts: rest(mask.clips) }));
    const bare = given(here(clips), recommend(poolOf(rest(clips)), grid, goal).setting);
    const best = bestMask(rest(clips), parts, grid, goal);
    const masked = best ? given(here(best.mask.clips), best.setting) : bare;
    return { masked, bare, watchedHours: here(clips).truth.watchedSeconds / 3600 };
  });
}

function given({ own, falseTriggers }: SweepCounts, setting: number): Given {
  return { caught: own[setting]!, falseTriggers: falseTriggers[setting]! };
}

/** Fewer blocks say nothing of how blocks differ. */
const FEWEST_BLOCKS = 4;

/** Whether a new mask's gain holds on what was left out. */
export function isProved(blocks: readonly Paired[], goal: Goal): boolean {
  if (blocks.length < FEWEST_BLOCKS) return false;
  const gains = blocks.map(({ masked, bare }) => inVisits(masked, goal) - inVisits(bare, goal));
  if (!(sum(gains) > 0 && lowerEnd(gains) >= 0)) return false;
  return goal.kind === 'worth' || keepsOrNoMore(blocks, goal.falsePerHour);
}

/** Whether false triggers keep the allowance, or are not told to be more than without a new mask. */
function keepsOrNoMore(blocks: readonly Paired[], falsePerHour: number): boolean {
  const allowed = falsePerHour * sum(blocks.map(({ watchedHours }) => watchedHours));
  if (sum(blocks.map(({ masked }) => masked.falseTriggers)) <= allowed) return true;
  return lowerEnd(blocks.map(({ masked, bare }) => masked.falseTriggers - bare.falseTriggers)) <= 0;
}

/** Lower end of the 90 % interval of what such differences add up to in the long run, over as many blocks. */
function lowerEnd(differences: readonly number[]): number {
  const n = differences.length;
  const mean = sum(differences) / n;
  const squares = sum(differences.map((difference) => (difference - mean) ** 2));
  // One more is added: few that agree do not make certain.
  const error = Math.sqrt((n / (n - 1)) * squares + 1);
  return sum(differences) - t95(n - 1) * error;
}

function sum(figures: readonly number[]): number {
  return figures.reduce((all, figure) => all + figure, 0);
}

function inVisits({ caught, falseTriggers }: Given, goal: Goal): number {
  return goal.kind === 'worth' ? worthOf(caught, falseTriggers, goal) / goal.photos : caught;
}
