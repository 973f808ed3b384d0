import type { Clock } from '../fired/clock.js';
import type { Wanted } from '../fired/wanted.js';
import { plausibility } from '../score/plausible.js';
import { onScale, type Scores, STRICTER, slackFor } from '../score/scores.js';
import type { Axes } from '../search/axes.js';
import {
  allAxes,
  followedAround,
  holdStopped,
  middleOf,
  mostOf,
  type Stopped,
  supportOf,
} from '../search/stopping.js';
import type { Searched, Tried } from '../search/tried.js';
import type { Finalist } from './finalist.js';

/** So many combinations, in wide steps, that come as near as the best leave nothing to be looked through more closely. */
const MANY = 40;

/**
 * What stops while busy, followed by what it fires itself under all values, and where only few of them come near under all between these.
 * @returns null where none does
 */
export async function pinStopped(
  one: Tried,
  searched: Searched,
  wantedOf: (one: Pick<Tried, 'clock'>) => Wanted,
): Promise<Finalist | null> {
  const { look, clock, best } = one;
  const { looking, floor, reckoning } = searched;
  const { length } = wantedOf(one).fired;
  const by = {
    cooldowns: [best.values.cooldown],
    clock,
    wantedAt: (at: Clock) => wantedOf({ clock: at }),
    anywhere: null,
  };
  const followed = async (axes: Omit<Axes, 'cooldowns'>) => {
    const found = await holdStopped(look, axes, by, looking, reckoning);
    return found && finalistOf(found, axes, length);
  };
  const wide = await followed(allAxes(floor, look.width * look.height));
  if (wide && wide.alike.length >= MANY) return wide;
  const around = wide && wide.best.most >= best.most ? wide.best.values : best.values;
  const close = await followed(followedAround(around, floor, true));
  return close && close.best.most >= (wide?.best.most ?? 0) - slackFor(length) / 2 ? close : wide;
}

function finalistOf(found: Stopped, axes: Omit<Axes, 'cooldowns'>, fired: number): Finalist {
  const { all, look } = found;
  const closed = middleOf(all, fired);
  const alike = all.filter(({ close }) => close >= mostOf(all) - slackFor(fired));
  const { levels, areas } = axes;
  const isAtEnd = (x: number, of: readonly number[]) => x === of[0] || x === of.at(-1);
  const supported = supportOf(all, fired, STRICTER);
  return {
    ...found,
    scores: NONE,
    worth: supported + onScale(Math.log(plausibility(look)), fired, STRICTER),
    closed,
    alike,
    isCut: alike.some(({ values }) => isAtEnd(values.level, levels) || isAtEnd(values.area, areas)),
  };
}

/** What is followed has no evidence that would hold under other values. */
const NONE: Scores = {
  axes: { kinds: [], levels: [], areas: [], persistences: [], cooldowns: [] },
  values: new Float32Array(0),
};
