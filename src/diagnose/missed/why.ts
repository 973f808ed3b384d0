import { clock, plural } from '../../base/figures.js';
import { holds } from '../../score/stretches.js';
import type { MissNote, MissReason } from '../diagnosis.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { couldFire, idleFrom, isBusy, lastTriggerBefore, type Seen, type Window } from './window.js';

export interface Why {
  why: MissReason;
  note?: MissNote;
  /** One plain sentence with the figures it rests on. */
  evidence: string;
}

/** What explains a missed visit. */
export interface Sighting {
  replayed: ReplayedClip;
  window: Window;
  seen: Seen;
  /**
   * Whether frames in the camera's busy time were compared with its reference too: not so where the reference waits
   * for the camera.
   */
  sawBusy: boolean;
}

/** Changes while the camera was idle that are less than this share of those before are as good as none. */
const STILL = 0.1;

/**
 * Why a visit left no photo, as far as it has nothing to do with what was watched of it; null where it has. The reasons
 * are asked for in this order, here and in `whyAtThreshold`, and the first that holds is given:
 * 1. enough frames in a row were active in time, and the camera was still busy, or counting anew: cooldown; but
 *    absorbed where it was idle for at least half of the time in which it could have caught the visit, and less than a
 *    tenth as much changed in that time as before;
 * 2. no analysed frame while it was in view: too brief;
 * 3. no frame in view from which a photo would have come in time: shutter.
 */
export function whyInTime(sighting: Sighting): Why | null {
  const { replayed, window, seen, sawBusy } = sighting;
  const { catching, inView } = window;
  const inTime = new Set(catching);
  const ready = firstIn(replayed, window, firing(replayed, seen));
  if (ready !== undefined) return busy(sighting, ready);
  if (inView.length === 0) return unlooked(replayed, window);
  if (!inView.some((k) => inTime.has(k))) return tooLate(sighting);
  const idle = catching.filter((k) => couldFire(replayed, k));
  return sawBusy || 2 * idle.length >= catching.length ? null : unseenWhileBusy(sighting);
}

/**
 * Why a visit left no photo in which the camera never had enough active frames in time, as far as the settings' own
 * threshold tells; null where too little changed by it.
 * 4. it had them without the mask: masked;
 * 5. it fired in the visit, or enough frames in a row were active, but only when it was too late for a photo: shutter;
 * 6. some frame was active, but not enough in a row: too brief; so, too, where the area was large enough and more than
 *    mostChanged allows had changed, for then no frame was active long enough, however large.
 *
 * @param bare what would have been seen without the mask; null where there is none
 */
export function whyAtThreshold(sighting: Sighting, bare: Seen | null): Why | null {
  const { replayed, window, seen } = sighting;
  const { inView } = window;
  const uncovered = bare ? firstIn(replayed, window, firing(replayed, bare)) : undefined;
  if (bare && uncovered !== undefined) return masked(replayed, bare, uncovered);
  if (inView.some(firing(replayed, seen))) return tooLate(sighting);
  const late = bare ? inView.find(firing(replayed, bare)) : undefined;
  return bare && late !== undefined ? masked(replayed, bare, late) : tooBrief(sighting);
}

/** The first frame from which a photo would have come in time, and at which something holds; while in view if any. */
function firstIn(
  { times }: ReplayedClip,
  window: Window,
  holding: (frame: number) => boolean,
): number | undefined {
  const found = window.catching.filter(holding);
  return found.find((k) => holds(window, times[k]!)) ?? found[0];
}

/** Whether enough active frames in a row end with a frame. */
function firing({ settings }: ReplayedClip, { run }: Seen): (frame: number) => boolean {
  return (frame) => run[frame]! >= settings.persistence;
}

/** So many pixels, as the camera counts them. */
export function pixels({ camera }: ReplayedClip, area: number): string {
  return plural(area, 'pixel') + (camera.area === 'region' ? ' in one piece' : '');
}

function unlooked({ times }: ReplayedClip, { start, end }: Window): Why {
  const gap = times.length > 1 ? (times.at(-1) as number) / (times.length - 1) : 0;
  const evidence = `It was in view for ${seconds(end - start)} only, between two of the frames that the camera looks at, which are ${seconds(gap)} apart.`;
  return { why: 'too brief', evidence };
}

function tooLate({ replayed, window, seen }: Sighting): Why {
  const { inView, start, end } = window;
  const lag = replayed.camera.shutterLag;
  const fired = replayed.fired.find((k) => inView.includes(k));
  if (fired !== undefined) {
    const time = replayed.times[fired]!;
    const evidence = `It fired at ${clock(time, 1)}, while the animal was there, but its photo came ${seconds(lag)} later, ${seconds(time + lag - end)} after it had gone.`;
    return { why: 'shutter', evidence };
  }
  const first = inView.find(firing(replayed, seen));
  if (first === undefined) {
    const evidence = `It was in view for ${seconds(end - start)}, and from trigger to photo the camera takes ${seconds(lag)}: no frame that it looked at was early enough.`;
    return { why: 'shutter', evidence };
  }
  const at = replayed.times[first]!;
  const evidence = `Enough of it changed only from ${clock(at, 1)} on, and a photo ${seconds(lag)} later would have come after it had gone at ${clock(end, 1)}.`;
  return { why: 'shutter', evidence };
}

function busy({ replayed, window, seen }: Sighting, ready: number): Why {
  const { catching } = window;
  const trigger = lastTriggerBefore(replayed.fired, ready);
  const until = idleFrom(replayed, trigger);
  const idle = catching.filter((k) => couldFire(replayed, k));
  const most = (frames: readonly number[]) => frames.reduce((m, k) => Math.max(m, seen.area[k]!), 0);
  const peak = most(catching);
  const then = most(idle);
  if (2 * idle.length >= catching.length && then < STILL * peak) {
    const stayed = window.end - replayed.times[idle[0]!]!;
    const evidence = `It came while the camera was busy from the trigger at ${atTrigger(replayed, trigger)} until ${clock(until, 1)}, and stood still after that until the reference had taken it in: in the ${seconds(stayed)} that it stayed at most ${pixels(replayed, then)} changed, and the camera wants ${replayed.settings.minimumArea}.`;
    return { why: 'absorbed', evidence };
  }
  const when = clock(replayed.times[ready]!, 1);
  const evidence = isBusy(replayed, ready)
    ? `Enough of it changed at ${when}, but the camera was busy from the trigger at ${atTrigger(replayed, trigger)} until ${clock(until, 1)}.`
    : `Enough of it changed up to ${when}, but the camera was busy from the trigger at ${atTrigger(replayed, trigger)} until ${clock(until, 1)}, and of the ${replayed.settings.persistence} frames in a row that it wants too few were left.`;
  return { why: 'cooldown', evidence };
}

/** A camera whose reference waits sees nothing while it is busy: its busy time is all there is to tell. */
function unseenWhileBusy({ replayed, window }: Sighting): Why {
  const blind = window.catching.find((k) => !couldFire(replayed, k)) as number;
  const trigger = lastTriggerBefore(replayed.fired, blind);
  const evidence = `For most of the visit the camera was busy, from the trigger at ${atTrigger(replayed, trigger)} until ${clock(idleFrom(replayed, trigger), 1)}.`;
  return { why: 'cooldown', evidence };
}

function masked(replayed: ReplayedClip, bare: Seen, frame: number): Why {
  const area = bare.area[frame]!;
  const evidence = `The mask hides it: without the mask ${pixels(replayed, area)} would have changed at ${clock(replayed.times[frame]!, 1)}, and the camera wants ${replayed.settings.minimumArea}.`;
  return { why: 'masked', evidence };
}

function tooBrief({ replayed, window, seen }: Sighting): Why | null {
  const { persistence, minimumArea, mostChanged } = replayed.settings;
  const longest = window.catching.reduce((most, k) => Math.max(most, seen.run[k]!), 0);
  if (longest > 0) {
    const frames = longest === 1 ? 'one frame only' : `${longest} frames in a row`;
    const evidence = `Enough of it changed in ${frames}, and the camera wants ${persistence} in a row.`;
    return { why: 'too brief', evidence };
  }
  const large = window.catching.filter((k) => seen.area[k]! >= minimumArea);
  if (large.length === 0) return null;
  const least = large.reduce((m, k) => Math.min(m, seen.changed[k]!), Number.POSITIVE_INFINITY);
  const evidence = `Too much changed at once: ${plural(least, 'pixel')} or more in every frame with enough change, and above ${mostChanged} the camera sets a frame aside, so not one frame counted.`;
  return { why: 'too brief', note: 'too much changed', evidence };
}

/** 1:02.0 (a false one), and so on. */
function atTrigger({ judged }: ReplayedClip, place: number): string {
  const trigger = judged.triggers[place];
  if (!trigger) return 'before';
  const what = { true: 'for a visit', false: 'a false one', ignored: 'in time set aside' };
  const verdict = trigger.verdict ? ` (${what[trigger.verdict]})` : '';
  return `${clock(trigger.time, 1)}${verdict}`;
}

/** 3.2 s */
function seconds(time: number): string {
  return `${Number(time.toFixed(time < 1 ? 2 : 1))} s`;
}
