import type { Camera } from '../../camera/description.js';
import { type EngineValue, positions, valueAt } from '../../camera/dials.js';
import { busyFor } from '../../camera/timing.js';
import type { Score } from '../../score/score.js';
import { type Goal, isWithin, visitsGiven } from '../../tune/goal.js';
import type { SiteResult } from '../../tune/site-result.js';

/** A dial at an end of what it offers, where the choice is bounded by that end. */
export interface DialEnd {
  dial: string;
  /** In the camera's own units. */
  position: number;
  /** How the notch before that end does on the same clips; unknown: it was not tried. */
  inward: 'worse' | 'unknown';
}

/**
 * The dials that bound what is recommended: they stand at an end that engine values do not end at, and the notch before it is not
 * as good on these clips. What one would do beyond its end nothing was tried of.
 */
export function dialEnds(
  { recommended, notches }: Pick<SiteResult, 'recommended' | 'notches'>,
  camera: Camera,
  goal: Goal,
): DialEnd[] {
  return Object.entries(camera.controls).flatMap(([name, dial]): DialEnd[] => {
    const at = positions(dial);
    const place = at.indexOf(recommended.controls[name]!);
    if (at.length < 2 || (place !== 0 && place !== at.length - 1)) return [];
    const [end, inner] = [place, place === 0 ? 1 : place - 1].map((p) => valueAt(dial, at[p]!));
    if (isLast(dial.sets, end!, end! < inner!, camera)) return [];
    const inward = notches.find((notch) => notch.dial === name);
    if (inward && !isWorse(inward.score, recommended.score, goal)) return [];
    return [{ dial: name, position: at[place]!, inward: inward ? 'worse' : 'unknown' }];
  });
}

/** Whether an engine value goes no farther, or would change nothing. */
function isLast(sets: EngineValue, value: number, isLowest: boolean, camera: Camera): boolean {
  const { width, height } = camera.analysis;
  switch (sets) {
    case 'threshold':
      return isLowest ? value <= 1 : value >= 255;
    case 'minimumArea':
    case 'mostChanged':
      return isLowest ? value <= 1 : value >= width * height;
    case 'persistence':
      return isLowest && value <= 1;
    case 'cooldown':
      // While it takes the photos of one trigger it is busy anyway.
      return isLowest && busyFor(camera, value) <= busyFor(camera, 0);
  }
}

/** Whether settings are worse than others by what was asked for: what they give, then false triggers. */
function isWorse(there: Score, here: Score, goal: Goal): boolean {
  const [kept, keptHere] = [there, here].map((score) =>
    isWithin(score.falseTriggers, 3600 * score.watchedHours, goal),
  );
  if (kept !== keptHere) return keptHere!;
  const [given, givenHere] = [there, here].map((score) =>
    visitsGiven(score.caught - (score.byLuck ?? 0), score.falseTriggers, goal),
  );
  return given === givenHere ? there.falseTriggers > here.falseTriggers : given! < givenHere!;
}
