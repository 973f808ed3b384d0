import type { Counts } from '../score/score.js';

/**
 * The settings that no other beats: none catches more visits with as few false triggers, or as many with fewer. One
 * setting stands for all that tie, the one with the fewest triggers. In order of falling recall.
 */
export function front(size: number, countsAt: (setting: number) => Counts): number[] {
  const order = Array.from({ length: size }, (_, i) => i)
    .map((setting) => ({ setting, counts: countsAt(setting) }))
    .sort(
      (a, b) =>
        a.counts.falseTriggers - b.counts.falseTriggers ||
        b.counts.caught - a.counts.caught ||
        a.counts.trueTriggers + a.counts.ignoredTriggers - b.counts.trueTriggers - b.counts.ignoredTriggers ||
        a.setting - b.setting,
    );
  const kept: number[] = [];
  let most = -1;
  for (const { setting, counts } of order) {
    if (counts.caught <= most) continue;
    most = counts.caught;
    kept.push(setting);
  }
  return kept.reverse();
}
