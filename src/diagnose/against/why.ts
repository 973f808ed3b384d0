import { clock, plural } from '../../base/figures.js';
import { floorFor } from '../../camera/floor.js';
import { evidenceOf, type ReadingOptions } from '../../measure/evidence.js';
import { pixels } from '../missed/why.js';
import { idleFrom, isBusy, lastTriggerBefore, type Seen, seenIn } from '../missed/window.js';
import type { ReplayedClip } from '../replayed-clip.js';

export const silences = [
  'threshold',
  'minimum area',
  'most changed',
  'persistence',
  'mask',
  'busy',
  'reference',
] as const;
/**
 * Why settings did not fire where others did: what changed lay below their threshold, was smaller than their minimum
 * area, more than their mostChanged allows or too brief for their persistence; it was masked; the camera was busy; or, for a
 * camera whose reference depends on its triggers, it compared with something else by then.
 */
export type Silence = (typeof silences)[number];

/** One of two groups of settings, and how much it saw of each frame. */
export interface Under {
  replayed: ReplayedClip;
  /** Null where the reference depends on the triggers: then the two saw different things. */
  seen: (Seen & { areaAtOther: Uint32Array }) | null;
}

/** How much changed in each frame under a group of settings, at its own threshold and at that of another. */
export async function seenUnder(
  replayed: ReplayedClip,
  other: ReplayedClip,
  options: ReadingOptions,
): Promise<Under> {
  if (!replayed.evidence) return { replayed, seen: null };
  const floor = floorFor(replayed.camera, Math.min(replayed.level, other.level));
  const evidence = await evidenceOf(replayed.clip, replayed.camera, replayed.mask, floor, options);
  const both = await evidence.bothColumns([replayed.level, other.level]);
  const areas = both[replayed.camera.area];
  return {
    replayed,
    seen: {
      ...seenIn(areas.get(replayed.level)!, both.changed.get(replayed.level)!, replayed),
      areaAtOther: areas.get(other.level)!,
    },
  };
}

/**
 * Why settings did not fire at a frame at which others did. Asked in this order: was the camera busy; did too little
 * change, and then because of the mask, the threshold or else the minimum area; did too much; were too few frames active
 * in a row; or had it begun to count anew too late.
 *
 * @param by the settings that fired
 * @param silent those that did not
 */
export function whyNotThere(
  by: Under,
  { replayed, seen }: Under,
  frame: number,
): { why: Silence; evidence: string } {
  const { minimumArea, mostChanged, persistence } = replayed.settings;
  const trigger = lastTriggerBefore(replayed.fired, frame);
  if (isBusy(replayed, frame, trigger)) return busy(replayed, trigger, '.');
  if (!seen || !by.seen) {
    const evidence = `Its reference depends on its triggers, and by then the two compared with something else.`;
    return { why: 'reference', evidence };
  }
  const area = seen.area[frame]!;
  const changed = seen.changed[frame]!;
  const found = pixels(replayed, area);
  if (area < minimumArea) {
    const unmasked = by.seen.areaAtOther[frame]!;
    if (unmasked >= minimumArea) {
      const evidence = `Its mask hides it: ${pixels(replayed, unmasked)} changed where the others watch, ${area} where it does; it wants ${minimumArea}.`;
      return { why: 'mask', evidence };
    }
    const lower = by.seen.area[frame]!;
    if (replayed.level > by.replayed.level && lower >= minimumArea) {
      const evidence = `By its threshold of ${replayed.level} grey levels ${found} changed, by the other's ${by.replayed.level} it was ${lower}; it wants ${minimumArea}.`;
      return { why: 'threshold', evidence };
    }
    return { why: 'minimum area', evidence: `It saw ${found} change and wants ${minimumArea}.` };
  }
  if (changed > mostChanged) {
    const evidence = `${plural(changed, 'pixel')} changed in all, and above ${mostChanged} it sets a frame aside.`;
    return { why: 'most changed', evidence };
  }
  const run = seen.run[frame]!;
  if (run < persistence) {
    const evidence = `It saw enough change in ${plural(run, 'frame')} in a row up to then and wants ${persistence}.`;
    return { why: 'persistence', evidence };
  }
  return busy(replayed, trigger, `, and had not yet counted ${persistence} frames in a row anew.`);
}

function busy(replayed: ReplayedClip, trigger: number, tail: string): { why: Silence; evidence: string } {
  const time = replayed.judged.triggers[trigger]?.time ?? 0;
  const evidence = `It was busy from its trigger at ${clock(time, 1)} until ${clock(idleFrom(replayed, trigger), 1)}${tail}`;
  return { why: 'busy', evidence };
}
