import type { Wanted } from '../fired/wanted.js';
import { lateness } from '../score/agreement.js';
import { busyBy } from './busy.js';
import { closedLoop } from './closed.js';
import type { Look, WhileBusy } from './look.js';
import type { Looking, LookTried } from './looking.js';
import type { Tried } from './tried.js';

type Stops = Exclude<WhileBusy, 'continues'>;
const WAYS: readonly Stops[] = ['frozen', 'restarts'];
/** Cooldowns under which references that depend on triggers are followed. */
const MOST = 2;

/**
 * The longest cooldowns that may be meant, for a camera that something keeps firing waits no longer than that. A gap told in whole
 * seconds is never shorter than the whole seconds of the true one: one of 4 s was shorter than 5.
 * @param cooldowns rising
 * @param times as told, rising
 */
export function longestMeant(
  cooldowns: readonly number[],
  times: readonly number[],
  quantum: number,
  frame: number,
): number[] {
  const gap = Math.min(...times.slice(1).map((time, i) => time - times[i]!));
  const above = cooldowns.filter((cooldown) => cooldown > 0);
  const meant = above.filter((cooldown) => (quantum > frame ? cooldown < gap + quantum - 1e-6 : true));
  return (meant.length > 0 ? meant : above).slice(-MOST);
}

/** A look with its reference stopped while busy, in either way, followed by fired times. */
export function stoppedLike(
  look: Look,
  times: Float64Array,
  fired: Float64Array,
  cooldowns: readonly number[],
): LookTried[] {
  return WAYS.flatMap((whileBusy) =>
    cooldowns.map((cooldown) => ({
      look: { ...look, whileBusy },
      busy: busyBy(times, fired, whileBusy, cooldown),
    })),
  );
}

/** Fired times, each at the time at which something is predicted near it. */
export function atFrames({ fired, tolerance }: Wanted, predicted: readonly number[]): Float64Array {
  const placed = fired.slice();
  for (const { place, at } of lateness(fired, predicted, tolerance)) placed[place] = at;
  return placed;
}

/** What stops while busy, followed by what it really fires near the fired times. */
export async function followedByItself(one: Tried, looking: Looking, wanted: Wanted): Promise<LookTried> {
  const { look, best } = one;
  const { whileBusy } = look;
  if (whileBusy === 'continues') return one;
  const [closed] = await closedLoop({ looking }, one, [best.values], wanted);
  const fired = atFrames(wanted, closed!.predicted);
  return { look, busy: busyBy(looking.times, fired, whileBusy, best.values.cooldown) };
}
