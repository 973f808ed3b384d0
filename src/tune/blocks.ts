import type { Camera } from '../camera/description.js';
import { photosFor } from '../camera/timing.js';
import { memoryOf } from '../engine/reference.js';
import { type Stretch, union } from '../score/stretches.js';
import { type Truth, watchedWithin } from '../score/truth.js';
import { firstAt } from '../sweep/march.js';
import type { SweepPart } from '../sweep/sweep.js';

/** What keeps two blocks of one clip apart, in seconds. */
export interface Apart {
  /** How far back a difference looks: no block's reference has seen the block before. */
  memory: number;
  /** From a trigger to its last photo: no photo of one block falls in a visit of the next. */
  photoSpan: number;
}

/**
 * Cuts a clip into up to `count` blocks of about the same length that share nothing: no visit, for cuts fall between
 * visits; no reference, for a block starts only when its reference has forgotten the block before; and no cooldown,
 * for each is replayed by itself from an idle camera. Where visits leave no room for a cut, there are fewer blocks.
 */
export function cutBlocks(truth: Truth, count: number, apart: Apart): Stretch[] {
  const gap = apart.memory + apart.photoSpan;
  const taken = union([...truth.visits, ...truth.setAside]);
  const blocks: Stretch[] = [];
  let start = 0;
  for (let i = 1; i < count; i++) {
    const cut = freeFrom(taken, Math.max((truth.seconds * i) / count, start), gap);
    const share = truth.seconds / count;
    if (cut - start < share / 2 || truth.seconds - (cut + gap) < share / 2) continue;
    blocks.push({ start, end: cut });
    start = cut + gap;
  }
  return [...blocks, { start, end: truth.seconds }];
}

/** The first time from `time` on from which `gap` seconds hold nothing that is taken. */
export function freeFrom(taken: readonly Stretch[], time: number, gap: number): number {
  let free = time;
  for (const { start, end } of taken) {
    if (end >= free && start <= free + gap) free = end + 1e-6;
  }
  return free;
}

/** One block of a clip as a part to be swept by itself. */
export function blockOf(clip: Omit<SweepPart, 'from'>, block: Stretch): SweepPart {
  const from = firstAt(clip.times, block.start, 0);
  const to = Math.max(from, firstAt(clip.times, block.end, 0));
  const inside = (s: Stretch) => s.start >= block.start && s.end <= block.end;
  const places = clip.truth.visits.flatMap((visit, i) => (inside(visit) ? [i] : []));
  const newPlace = new Map(places.map((place, i) => [place, i]));
  const visitStart = new Uint32Array(to - from + 1);
  const visitList: number[] = [];
  const rows: number[] = [];
  for (let k = from; k < to; k++) {
    const end = clip.outcomes.visitStart[k + 1]!;
    for (let i = clip.outcomes.visitStart[k]!; i < end; i++) {
      const place = newPlace.get(clip.outcomes.visitList[i]!);
      if (place === undefined) continue;
      visitList.push(place);
      rows.push(clip.outcomes.rows[i]!);
    }
    visitStart[k - from + 1] = visitList.length;
  }
  return {
    from,
    times: clip.times.subarray(from, to),
    truth: {
      ...clip.truth,
      visits: places.map((i) => clip.truth.visits[i]!),
      watchedSeconds: watchedWithin(clip.truth, block),
    },
    outcomes: {
      times: clip.times.subarray(from, to),
      verdict: clip.outcomes.verdict.subarray(from, to),
      visitStart,
      visitList: Uint32Array.from(visitList),
      rows: Uint32Array.from(rows),
    },
  };
}

/** How far blocks of time must lie apart so that they share neither reference nor photo. */
export function apart(camera: Camera): Apart {
  const { frames, seconds } = memoryOf(camera.reference);
  // Until what was seen then weighs less than half a grey level of 255.
  const memory = Math.min(frames / camera.analysis.rate, seconds * Math.log(2 * 255));
  return { memory, photoSpan: photosFor(camera, 0).at(-1) ?? 0 };
}
