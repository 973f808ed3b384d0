import type { Wanted } from '../fired/wanted.js';
import { middleOfBest, placeOf, type Scores, STRICTER, scoreAll, slackFor } from '../score/scores.js';
import { denselyAbove, denselyBelow } from '../search/axes.js';
import type { Searched, Tried } from '../search/tried.js';
import { type Pinned, worthOf } from './pinned.js';

/** How much farther is looked at a time: levels and areas. */
const LEVELS_BY = 2;
const AREAS_BY = 3;

/**
 * Values of a description as far as they do well: where those that were looked through do so at an end of levels, areas or persistences,
 * what lies beyond is looked through too, in the same steps, until it does not, or there is no more.
 * @param least closeness of what does well
 * @param mostChanged pixels of all that changed above which it does not fire; null: no limit
 */
export async function toTheirEnds(
  { source, look }: Pick<Tried, 'source' | 'look'>,
  scores: Scores,
  least: number,
  { looking, floor }: Pick<Searched, 'looking' | 'floor'>,
  wanted: Wanted,
  mostChanged: number | null,
): Promise<Scores> {
  let reached = scores;
  for (;;) {
    const axes = beyond(reached, least, floor, look.width * look.height);
    if (!axes) return reached;
    const columns = await source.bothColumns(axes.levels);
    reached = scoreAll(columns, looking.times, axes, wanted, 'exactly', mostChanged);
  }
}

/** A description with all that does as well as its best, however far that reaches: the middle of it, and what it is worth by all of it. */
export async function withMiddle<T extends Pinned>(
  one: T,
  searched: Pick<Searched, 'looking' | 'floor'>,
  wanted: Wanted,
): Promise<T> {
  const { length } = wanted.fired;
  const scores = await toTheirEnds(one, one.scores, one.best.most - slackFor(length), searched, wanted, null);
  const best = middleOfBest(scores, length, STRICTER) ?? one.best;
  return { ...one, scores, best, worth: worthOf(one.look, scores, best.own, length) };
}

/** The axes with what lies beyond the ends at which some combination does well; null where none does, or nothing lies beyond. */
function beyond(
  { axes, values }: Scores,
  least: number,
  floor: number,
  pixels: number,
): Scores['axes'] | null {
  const { levels, areas, persistences } = axes;
  const at = { level: new Set<number>(), area: new Set<number>(), persistence: new Set<number>() };
  values.forEach((value, index) => {
    if (value < least) return;
    const [, level, area, persistence] = placeOf({ axes, values }, index);
    at.level.add(level);
    at.area.add(area);
    at.persistence.add(persistence);
  });
  const longer = persistences.at(-1)! + 1;
  const shorter = persistences[0]! - 1;
  // Of one alone the persistences beside it were found wanting before.
  const isSeveral = persistences.length > 1;
  const wider = {
    ...axes,
    levels: [
      ...(at.level.has(0) ? denselyBelow('levels', levels[0]!, LEVELS_BY, floor) : []),
      ...levels,
      ...(at.level.has(levels.length - 1) ? denselyAbove('levels', levels.at(-1)!, LEVELS_BY, 255) : []),
    ],
    areas: [
      ...(at.area.has(0) ? denselyBelow('areas', areas[0]!, AREAS_BY, 1) : []),
      ...areas,
      ...(at.area.has(areas.length - 1) ? denselyAbove('areas', areas.at(-1)!, AREAS_BY, pixels) : []),
    ],
    persistences: [
      ...(isSeveral && shorter >= 1 && at.persistence.has(0) ? [shorter] : []),
      ...persistences,
      ...(isSeveral && at.persistence.has(persistences.length - 1) ? [longer] : []),
    ],
  };
  const isWider =
    wider.levels.length > levels.length ||
    wider.areas.length > areas.length ||
    wider.persistences.length > persistences.length;
  return isWider ? wider : null;
}
