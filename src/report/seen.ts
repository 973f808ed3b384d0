import { type Clip, luminanceFrames } from '../clip/open.js';
import { largestRegion } from '../engine/region.js';
import type { Stretch } from '../score/stretches.js';
import type { Box } from './canvas.js';
import { boxOf } from './crop.js';

const WIDTH = 320;
/** Seconds before and after a visit at which the place is taken to be without the animal: hand labels are no more exact, and grass sways to and fro. */
const CLEAR = [1.5, 2.2, 3.1, 4.3, 6];
/** Seconds for which it is at least to be seen: a drop that flies past is not. */
const STAYS = 0.2;
/** Grey levels by which an animal differs at least from the place before and after it. */
const LEVEL = 16;

/** Share of the picture that an animal takes at least: less is a leaf as likely. */
const LEAST = 0.0004;

/** Where an animal is to be seen at one moment of its visit, and how much of it: the largest patch that is neither there before nor after. */
export interface Seen {
  /** Null where too little of it is to be seen. */
  box: Box | null;
  /** Share of the picture. */
  share: number;
}

/** @param box where the animal went in its visit; undefined: anywhere */
export async function seenAt(clip: Clip, time: number, visit: Stretch, box: Box | undefined): Promise<Seen> {
  const width = Math.min(WIDTH, clip.width);
  const height = Math.max(1, Math.round((width * clip.height) / clip.width));
  const there = [time, Math.min(time + STAYS, visit.end)].map((t) => frameAt(clip, t));
  const clear = CLEAR.flatMap((s) => [visit.start - s, visit.end + s]);
  const gone = clear.filter((t) => t >= 0 && t < clip.seconds).map((t) => frameAt(clip, t));
  if (gone.length === 0) return { box: null, share: 0 };
  const indices = [...new Set([...there, ...gone])].sort((a, b) => a - b);
  const read = new Map<number, Uint8Array>();
  let next = 0;
  for await (const y of luminanceFrames(clip, indices, { width, height }))
    read.set(indices[next++]!, y.slice());
  const difference = new Uint8Array(width * height).fill(255);
  for (const one of there) {
    for (const other of gone) {
      const [a, b] = [read.get(one)!, read.get(other)!];
      difference.forEach((d, i) => {
        difference[i] = Math.min(d, Math.abs(a[i]! - b[i]!));
      });
    }
  }
  if (box) {
    difference.forEach((_, i) => {
      const [x, y] = [i % width, Math.floor(i / width)];
      if (!holds(box, (x + 0.5) / width, (y + 0.5) / height)) difference[i] = 0;
    });
  }
  const region = largestRegion(difference, width, height, LEVEL);
  const share = region.pixels / (width * height);
  return { box: share < LEAST ? null : boxOf(region), share };
}

function holds([x, y, w, h]: Box, px: number, py: number): boolean {
  return px >= x && px <= x + w && py >= y && py <= y + h;
}

/** The first frame from a time on, or the last one. */
export function frameAt({ times }: Pick<Clip, 'times'>, time: number): number {
  const index = times.findIndex((t) => t >= time - 1e-9);
  return index < 0 ? times.length - 1 : index;
}
