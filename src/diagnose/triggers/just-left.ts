import { clock, figure } from '../../base/figures.js';
import type { Camera } from '../../camera/description.js';
import { TIME_TOLERANCE } from '../../engine/triggers.js';
import type { Box, CauseName } from '../diagnosis.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { boxOfVisit } from './places.js';

/** Seconds by which a label set by hand may end too early (assumed: no one's labels were measured). */
const HAND = 0.5;

/** What the model calls an animal that it knows nothing of. */
const CAME_AND_WENT: readonly CauseName[] = ['insect', 'shadow', 'unknown'];

/** A visit that explains a false trigger: the animal was still in view when it fired, or had only just left. */
export interface JustLeft {
  start: number;
  end: number;
  name: string | null;
}

/**
 * The animal visit during which a false trigger came, whose photo was then too late, or that ended so shortly before that the
 * camera still compared with what the animal had covered. Where labels say where the animal was, something there must have
 * fired; where they do not, it must look like something that came and went: leaves move whoever is in view.
 * @param box around what fired, fractions of the frame
 * @param likeliest what the model puts it down to
 */
export function justLeft(
  replayed: Pick<ReplayedClip, 'clip' | 'camera' | 'judged'>,
  time: number,
  box: Box,
  likeliest: CauseName,
): JustLeft | null {
  const after = memoryOf(replayed.camera) + HAND;
  const { visits } = replayed.judged;
  const found = [...visits.keys()]
    .filter((i) => {
      const { start, end } = visits[i]!;
      if (time < start - TIME_TOLERANCE || time > end + after + TIME_TOLERANCE) return false;
      const where = boxOfVisit(replayed, i);
      return where === null ? CAME_AND_WENT.includes(likeliest) : overlap(where, box);
    })
    .sort((a, b) => visits[b]!.end - visits[a]!.end)[0];
  if (found === undefined) return null;
  const { start, end, name } = visits[found]!;
  return { start, end, name: name ?? null };
}

/** Seconds for which the reference holds what has gone. */
function memoryOf({ reference, analysis }: Camera): number {
  return reference.kind === 'previous' ? reference.lag / analysis.rate : reference.seconds;
}

function overlap([ax, ay, aw, ah]: Box, [bx, by, bw, bh]: Box): boolean {
  return ax < bx + bw && bx < ax + aw && ay < by + bh && by < ay + ah;
}

/** A sentence that names the visit. */
export function justLeftText({ start, end, name }: JustLeft, time: number, photo: number): string {
  const who = `The ${name ?? 'animal'} of ${clock(start)}-${clock(end)}`;
  const ago = time - end;
  return ago <= TIME_TOLERANCE
    ? `${who} was in view when it fired, and gone before the photo, ${figure(photo - time)} s later.`
    : `${who} had left ${figure(ago)} s before, and the camera still compared with where it had been, or it was not quite gone.`;
}
