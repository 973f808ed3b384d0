import { photosFor } from '../../camera/timing.js';
import type { Stretch } from '../../score/stretches.js';
import { union } from '../../score/stretches.js';
import { type Truth, watchedWithin } from '../../score/truth.js';
import { outcomesAt } from '../../sweep/outcomes.js';
import type { SweepPart } from '../../sweep/sweep.js';
import { type Apart, apart, blockOf, freeFrom } from '../../tune/blocks.js';
import type { ReplayedClip } from '../replayed-clip.js';

/** A labelled clip, and its halves: one to find cures on, the other to prove them on. */
export interface Halved {
  whole: SweepPart;
  /** Null for a clip that cannot be cut and serves as a whole for the other half. */
  finding: SweepPart | null;
  proving: SweepPart | null;
}

/** Places for a cut that are compared. */
const PLACES = 64;
/** Less than this share of the watched time is no half. */
const LEAST = 0.25;

/**
 * Cuts each labelled clip in time into two halves that share no visit, reference or cooldown, of about the same watched
 * time. The half to find cures on is the first of one clip and the second of the next, so that neither is all mornings.
 * A clip without room for a cut goes as a whole to the half that has less so far.
 *
 * @returns for each case its halves; null without labels
 */
export function halvesOf(cases: readonly ReplayedClip[]): (Halved | null)[] {
  let [findingSeconds, provingSeconds] = [0, 0];
  let firstIsFinding = true;
  return cases.map(({ camera, truth, times }) => {
    if (!truth) return null;
    const outcomes = outcomesAt(times, (time) => photosFor(camera, time), truth);
    const clip = { times, truth, outcomes };
    const whole = { ...clip, from: 0 };
    const cut = cutInTwo(truth, apart(camera));
    if (!cut) {
      const finds = findingSeconds <= provingSeconds;
      if (finds) findingSeconds += truth.watchedSeconds;
      else provingSeconds += truth.watchedSeconds;
      return { whole, finding: finds ? whole : null, proving: finds ? null : whole };
    }
    const [first, second] = cut.map((half) => blockOf(clip, half)) as [SweepPart, SweepPart];
    const [finding, proving] = firstIsFinding ? [first, second] : [second, first];
    firstIsFinding = !firstIsFinding;
    findingSeconds += finding.truth.watchedSeconds;
    provingSeconds += proving.truth.watchedSeconds;
    return { whole, finding, proving };
  });
}

/** Two halves with nothing in common, or null where visits leave no room between two of about the same watched time. */
function cutInTwo(truth: Truth, { memory, photoSpan }: Apart): [Stretch, Stretch] | null {
  const gap = memory + photoSpan;
  const taken = union([...truth.visits, ...truth.setAside]);
  let best: { halves: [Stretch, Stretch]; least: number } | null = null;
  for (let i = 1; i < PLACES; i++) {
    const cut = freeFrom(taken, (truth.seconds * i) / PLACES, gap);
    if (cut + gap >= truth.seconds) break;
    const halves: [Stretch, Stretch] = [
      { start: 0, end: cut },
      { start: cut + gap, end: truth.seconds },
    ];
    const least = Math.min(...halves.map((half) => watchedWithin(truth, half)));
    if (!best || least > best.least) best = { halves, least };
  }
  return best && best.least >= LEAST * truth.watchedSeconds ? best.halves : null;
}
