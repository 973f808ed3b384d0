import type { Camera } from '../../camera/description.js';
import { triesAll } from '../../sweep/for-camera.js';
import {
  type AgainstFirst,
  againstFirst,
  asFarAsTried,
  type CameraVerdict,
  cameraVerdict,
  type Photographed,
  takenOf,
} from '../../tune/cameras.js';
import type { Goal } from '../../tune/goal.js';
import type { CameraDoes } from './camera-at-site.js';

/** What is wanted of a camera at all sites together: of allowances, which may differ from site to site, so many as come to theirs. */
export function goalOfAll(sites: readonly CameraDoes[]): Goal {
  const [{ goal }] = sites as [CameraDoes];
  if (goal.kind === 'worth') return goal;
  const hours = sites.map(({ leftOut }) => leftOut.reduce((sum, { watchedHours }) => sum + watchedHours, 0));
  const watched = hours.reduce((sum, at) => sum + at, 0);
  const allowed = sites.reduce(
    (sum, { goal: at }, s) => sum + (at.kind === 'allowance' ? at.falsePerHour * hours[s]! : 0),
    0,
  );
  return watched === 0 ? goal : { kind: goal.kind, falsePerHour: allowed / watched };
}

/**
 * What another camera took, unit by unit, against what the first did, and the verdict as far as both were tried.
 * @param cameras the first, and the other
 */
export function heldAgainstFirst(
  first: readonly Photographed[],
  other: readonly Photographed[],
  goal: Goal,
  [ofFirst, ofOther]: readonly [Camera, Camera],
): { against: AgainstFirst; verdict: CameraVerdict } {
  const against = againstFirst(first, other, goal);
  const { visits, nothingPerHour } = takenOf(other);
  const taken = { nothingPerHour, photosPerTrigger: ofOther.burst.photos };
  const verdict = cameraVerdict(against, visits, goal, taken);
  return { against, verdict: asFarAsTried(verdict, { first: triesAll(ofFirst), other: triesAll(ofOther) }) };
}
