import type { Pool } from './pool.js';

/**
 * The settings that no other beats: none catches more visits with as few false triggers, or as many with fewer. One
 * setting stands for all that tie, the one with the fewest triggers. In order of falling recall.
 */
export function front({
  size,
  caught,
  falseTriggers,
  taken,
}: Pick<Pool, 'size' | 'caught' | 'falseTriggers' | 'taken'>): number[] {
  const by = (figures: Float64Array, a: number, b: number) => figures[a]! - figures[b]!;
  const order = Array.from({ length: size }, (_, i) => i).sort(
    (a, b) => by(falseTriggers, a, b) || by(caught, b, a) || by(taken, a, b) || a - b,
  );
  const kept: number[] = [];
  let most = -1;
  for (const setting of order) {
    if (caught[setting]! <= most) continue;
    most = caught[setting]!;
    kept.push(setting);
  }
  return kept.reverse();
}
