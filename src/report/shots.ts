import { nearestPlace } from '../base/nearest.js';
import { labelOf } from '../score/label-of.js';
import type { Labels } from '../score/labels.js';
import type { Judged, JudgedTrigger } from '../score/replayed.js';
import { holds } from '../score/stretches.js';
import { clock } from '../words/wording.js';
import type { Box } from './canvas.js';
import { type PictureKind, pictureKinds } from './data.js';
import { type Privacy, privacyAt } from './people.js';

/** One picture to draw. */
export interface Shot {
  /** Which of the clip's frames it shows. */
  frame: number;
  /** When it fired, seconds: the region of that frame is hatched; null for a visit that was missed. */
  trigger: number | null;
  caption: string;
  /** What to frame. */
  box: Box | null;
  privacy: Exclude<Privacy, { kind: 'leave out' }>;
}

export interface ShotGroup {
  shots: Shot[];
  more: number;
  people: number;
}

/** A picture that may be drawn, before people are left out and the number is bounded. */
export interface Candidate {
  time: number;
  trigger: number | null;
  caption: string;
  box: Box | null;
  animal: boolean;
  /** Stands before others when there are too many: the first photo of its visit. */
  first: boolean;
}

/** Chooses what to show of a clip, people left out, at most `most` pictures of a kind. */
export function shotsOf(
  judged: Judged,
  labels: Labels | null,
  times: ArrayLike<number>,
  most: number,
): Record<PictureKind, ShotGroup> {
  /** Visits with a photo already. */
  const shown = new Set<number | null>();
  const candidates = {
    taken: judged.triggers
      .filter((t) => t.verdict === 'true' || t.verdict === null)
      .map((t) => {
        const first = !shown.has(t.visit);
        shown.add(t.visit);
        return taken(t, judged, first);
      }),
    nothing: judged.triggers.filter((t) => t.verdict === 'false').map((t) => taken(t, judged, true)),
    missed: judged.visits.filter((v) => !v.caught).map((v) => missedVisit(v, labels)),
  };
  const groups = pictureKinds.map(
    (kind) => [kind, chooseShots(candidates[kind], labels, times, most)] as const,
  );
  return Object.fromEntries(groups) as Record<PictureKind, ShotGroup>;
}

function taken(trigger: JudgedTrigger, judged: Judged, first: boolean): Candidate {
  const visit = trigger.visit === null ? undefined : judged.visits[trigger.visit];
  const time =
    trigger.photos.find((photo) => visit && holds(visit, photo)) ?? trigger.photos[0] ?? trigger.time;
  const what = visit ? `, ${visit.name ?? 'an animal'}` : '';
  return {
    time,
    trigger: trigger.time,
    caption: `${firedAndTaken(trigger.time, time)}${what}`,
    box: null,
    animal: visit !== undefined,
    first,
  };
}

/** When it fired, as everywhere a trigger is told of, and when the photo was taken, where that is later. */
function firedAndTaken(fired: number, photo: number): string {
  const [first, second] = [clock(fired, 1), clock(photo, 1)];
  return first === second ? first : `${first}, photo ${second}`;
}

/** A visit that left no photo, halfway through it. */
export function missedVisit(visit: Judged['visits'][number], labels: Labels | null): Candidate {
  return {
    time: (visit.start + visit.end) / 2,
    trigger: null,
    caption: `${clock(visit.start, 1)} to ${clock(visit.end, 1)}, ${visit.name ?? 'an animal'}`,
    box: labelOf(labels, visit)?.box ?? null,
    animal: true,
    first: true,
  };
}

/** At most so many of the candidates, those that stand before others first; people left out. */
export function chooseShots(
  candidates: readonly Candidate[],
  labels: Labels | null,
  times: ArrayLike<number>,
  most: number,
): ShotGroup {
  const shown = candidates.flatMap((candidate) => {
    const frame = nearestPlace(times, candidate.time);
    const at = times[frame]!;
    const privacy = privacyAt(labels, [candidate.time, at], candidate);
    if (privacy.kind === 'leave out') return [];
    const late =
      candidate.time > at + 1 ? `${candidate.caption}; the clip ends before, its last frame` : null;
    const { trigger, box, first } = candidate;
    return [{ frame, trigger, caption: late ?? candidate.caption, box, privacy, first }];
  });
  const firsts = shown.filter((shot) => shot.first);
  const others = shown.filter((shot) => !shot.first);
  const kept = [...spread(firsts, most), ...spread(others, Math.max(0, most - firsts.length))]
    .sort((a, b) => a.frame - b.frame)
    .map(({ first: _, ...shot }) => shot);
  return { shots: kept, more: shown.length - kept.length, people: candidates.length - shown.length };
}

/** At most so many, evenly over the whole. */
function spread<T>(all: readonly T[], most: number): T[] {
  if (all.length <= most) return [...all];
  if (most <= 1) return all.slice(0, most);
  return Array.from({ length: most }, (_, i) => all[Math.round((i * (all.length - 1)) / (most - 1))] as T);
}
