import type { Clip } from '../../clip/open.js';
import { onClip } from '../fired/clock.js';
import type { Told } from '../fired/told.js';
import { upTo, wantedBy } from '../fired/wanted.js';
import { f1From, momentsOf } from '../score/agreement.js';
import { slackFor } from '../score/scores.js';
import { hold } from '../search/holding.js';
import { lookName } from '../search/look.js';
import { predictedBy, type Searched } from '../search/tried.js';
import type { Finalist } from './finalist.js';
import { type Pinned, pinDown } from './pinned.js';
import { withMiddle } from './to-their-ends.js';
import { limitOf } from './upper-limit.js';

/** Of the best looks, those among which a choice is made anew. */
const MOST_HELD_OUT = 4;
/** Told times that either part must hold, for a share of them to say anything. */
const FEWEST_HELD_OUT = 5;

/**
 * How the choice does on the last third of the clip when it is made by the rest alone, from the first value that is tried to an upper limit:
 * of all of the clip come only the looks among which it is made, the rate, and the clock to begin with. Null where either part holds too
 * few, and where its reference stops while busy.
 * @param held the best first
 */
export async function heldOut(
  clip: Clip,
  told: Told,
  held: readonly Finalist[],
  searched: Searched,
): Promise<number | null> {
  const { looking, reckoning, tolerance, floor } = searched;
  const cut = (2 * clip.seconds) / 3;
  const [best] = held;
  if (!best || best.closed) return null;
  const { fired } = wantedBy(told, best.clock, tolerance, [0, clip.seconds]);
  const before = fired.filter((time) => time < cut).length;
  if (Math.min(before, fired.length - before) < FEWEST_HELD_OUT) return null;
  const chosen: Pinned[] = [];
  for (const one of looksOf(held).slice(0, MOST_HELD_OUT)) {
    reckoning.trying('choosing by the first two thirds of the clip alone');
    const known = { ...told, times: told.times.filter((_, i) => onClip(told.times, one.clock)[i]! < cut) };
    const cooldowns = searched.cooldownsBy(known.times);
    const { times, rate } = looking;
    const within = { told: known, clock: one.clock, floor, cooldowns, tolerance, times, rate, seconds: cut };
    const begun = await hold({ look: one.look, busy: null }, one.source, within);
    if (begun) {
      const wanted = wantedUpTo(cut, known, begun, tolerance);
      const slack = slackFor(wanted.fired.length);
      for (const pinned of await pinDown(begun, { ...searched, cooldowns }, wanted, slack)) {
        chosen.push(await withMiddle(pinned, searched, wanted));
      }
    }
    reckoning.held();
  }
  const [first] = chosen.sort((a, b) => b.worth - a.worth);
  if (!first) return null;
  const wanted = wantedUpTo(cut, told, first, tolerance);
  const { values } = first.best;
  const limit = await limitOf(first.source, values, looking.times, wanted);
  const predicted = limit?.predicted ?? (await predictedBy(first, values, looking.times));
  const all = wantedBy(told, first.clock, tolerance, [0, clip.seconds]);
  return f1From(momentsOf(all.fired, predicted, tolerance), cut);
}

function wantedUpTo(
  cut: number,
  told: Told,
  { clock }: Pick<Pinned, 'clock'>,
  tolerance: Searched['tolerance'],
) {
  return upTo(wantedBy(told, clock, tolerance, [0, cut]), cut);
}

/** The best of each look whose reference goes on. */
function looksOf(held: readonly Finalist[]): Finalist[] {
  const looks = new Map<string, Finalist>();
  for (const one of held)
    if (!one.closed && !looks.has(lookName(one.look))) looks.set(lookName(one.look), one);
  return [...looks.values()];
}
