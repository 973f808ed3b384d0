import { boxOf, type Look } from '../look.js';

/** Whether the background, shifted by a few pixels, explains the change: something displaced against something new. */
export interface Displacement {
  /** Share of the squared difference that is gone when each block is taken from the best place in the reference. */
  shifted: number;
  /** The same with the best place in any of some frames before and after: things that come and go are found there. */
  elsewhere: number;
  /** The same without any shift: how much of it looked like this at some other moment. */
  again: number;
  /** Length of the mean shift over the mean length of the shifts: 1 when all blocks moved alike. */
  rigid: number;
  /** Mean shift of a block, in hundredths of the frame's width. */
  far: number;
}

const BLOCK = 8;
const MOST_BLOCKS = 24;
/** Shift looked for, as a share of the frame's width. */
const REACH = 0.022;
/** Frames before and after that are looked through, from so many seconds away on: what is new stays for a while. */
const OTHERS = 8;
const AWAY = 3;
/** Shift looked for in those. */
const NEAR = 3;

interface Match {
  left: number;
  dx: number;
  dy: number;
}

/** Block matching by full search on the sum of squared differences (Jain & Jain 1981, IEEE Trans. Commun. 29:1799-1808). */
export function displacement(look: Look): Displacement {
  const { frames, at, reference, width, height } = look;
  const { y, time } = frames[at]!;
  const reach = Math.max(2, Math.round(REACH * width));
  const blocks = busiestBlocks(look, reach);
  const others = spread(
    frames.filter((f) => Math.abs(f.time - time) >= AWAY),
    OTHERS,
  ).map((f) => f.y);
  let [zero, shifted, elsewhere, again] = [0, 0, 0, 0];
  let [sumX, sumY, length] = [0, 0, 0];
  for (const block of blocks) {
    const here = block.y * width + block.x;
    const still = squares(y, here, reference, here, width, Number.POSITIVE_INFINITY);
    const best = search(y, reference, block, reach, width, height, Number.POSITIVE_INFINITY);
    let [elsewhereBest, againBest] = [still, still];
    for (const other of others) {
      againBest = Math.min(againBest, squares(y, here, other, here, width, againBest));
      // What is no better than the best of those before is not looked for.
      elsewhereBest = search(y, other, block, NEAR, width, height, elsewhereBest).left;
    }
    zero += still;
    shifted += best.left;
    elsewhere += elsewhereBest;
    again += againBest;
    sumX += best.dx;
    sumY += best.dy;
    length += Math.hypot(best.dx, best.dy);
  }
  if (zero === 0) return { shifted: 0, elsewhere: 0, again: 0, rigid: 0, far: 0 };
  return {
    shifted: 1 - shifted / zero,
    elsewhere: 1 - elsewhere / zero,
    again: 1 - again / zero,
    rigid: length === 0 ? 0 : Math.hypot(sumX, sumY) / length,
    far: (100 * length) / blocks.length / width,
  };
}

/** Top left corners of the blocks with most of the region in them. */
function busiestBlocks({ region, width, height }: Look, reach: number): { x: number; y: number }[] {
  const box = boxOf(region);
  const found: { x: number; y: number; pixels: number }[] = [];
  for (let y = box.top; y < box.bottom; y += BLOCK) {
    for (let x = box.left; x < box.right; x += BLOCK) {
      const corner = { x: Math.min(x, width - BLOCK), y: Math.min(y, height - BLOCK) };
      if (corner.x < 0 || corner.y < 0) continue;
      let pixels = 0;
      for (let dy = 0; dy < BLOCK; dy++) {
        const row = (corner.y + dy) * width + corner.x;
        for (let dx = 0; dx < BLOCK; dx++) pixels += region.mask[row + dx]!;
      }
      // Blocks at the frame's edge have no background to come from on that side.
      const edge = corner.x < reach || corner.x + BLOCK + reach > width;
      if (pixels > 0) found.push({ ...corner, pixels: edge ? pixels / 2 : pixels });
    }
  }
  return found.sort((a, b) => b.pixels - a.pixels || a.y - b.y || a.x - b.x).slice(0, MOST_BLOCKS);
}

/** The best place within reach that leaves less than `enough`; that where there is none. */
function search(
  y: Uint8Array,
  background: ArrayLike<number>,
  block: { x: number; y: number },
  reach: number,
  width: number,
  height: number,
  enough: number,
): Match {
  const here = block.y * width + block.x;
  const best: Match = {
    left: Math.min(enough, squares(y, here, background, here, width, enough)),
    dx: 0,
    dy: 0,
  };
  for (let dy = -reach; dy <= reach; dy++) {
    if (block.y + dy < 0 || block.y + dy + BLOCK > height) continue;
    for (let dx = -reach; dx <= reach; dx++) {
      if (block.x + dx < 0 || block.x + dx + BLOCK > width) continue;
      const left = squares(y, here, background, here + dy * width + dx, width, best.left);
      if (left >= best.left) continue;
      best.left = left;
      best.dx = dx;
      best.dy = dy;
    }
  }
  return best;
}

/** Squared differences of the block at one place of a picture from that at one of another; given up above `enough`. */
function squares(
  y: Uint8Array,
  here: number,
  background: ArrayLike<number>,
  there: number,
  width: number,
  enough: number,
): number {
  let sum = 0;
  for (let row = 0; row < BLOCK && sum < enough; row++) {
    let i = here + row * width;
    let j = there + row * width;
    for (let x = 0; x < BLOCK; x++, i++, j++) {
      const d = y[i]! - background[j]!;
      sum += d * d;
    }
  }
  return sum;
}

function spread<T>(all: readonly T[], most: number): T[] {
  if (all.length <= most) return [...all];
  return Array.from({ length: most }, (_, i) => all[Math.round((i * (all.length - 1)) / (most - 1))] as T);
}
