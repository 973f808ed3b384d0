import { TIME_TOLERANCE } from '../engine/triggers.js';
import type { Labels } from './labels.js';

type Told = NonNullable<Labels['causes']>[number];

/**
 * What an owner says moved at a time; null where nothing was said. Of several stretches the shortest counts, for it was
 * meant for less, then the one whose middle is nearest; where those still differ it is not clear what was meant.
 */
export function causeTold(causes: readonly Told[] | undefined, time: number): Told['cause'] | null {
  const held = (causes ?? []).filter(
    ({ start, end }) => time >= start - TIME_TOLERANCE && time <= end + TIME_TOLERANCE,
  );
  const length = ({ start, end }: Told) => end - start;
  const away = ({ start, end }: Told) => Math.abs(time - (start + end) / 2);
  const order = (a: Told, b: Told) => {
    const [longer, farther] = [length(a) - length(b), away(a) - away(b)];
    return Math.abs(longer) > TIME_TOLERANCE ? longer : Math.abs(farther) > TIME_TOLERANCE ? farther : 0;
  };
  const [first, ...others] = held.sort(order);
  if (!first) return null;
  const unclear = others.some((other) => order(first, other) === 0 && other.cause !== first.cause);
  return unclear ? null : first.cause;
}
