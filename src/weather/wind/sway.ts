import { random as dice } from '../../base/random.js';
import { deflection } from './drag.js';
import type { Swing } from './oscillator.js';
import type { Net } from './warp.js';

/**
 * Branches of three sizes, each carried by the larger: length in metres, range of hertz, damping ratio. Frequencies in the
 * order of those of branches of a walnut tree, 1.4-2.6 Hz (Rodriguez et al. 2008, from memory); shorter ones are quicker.
 */
const SIZES = [
  { length: 0.9, low: 0.8, high: 1.5, damping: 0.1 },
  { length: 0.35, low: 1.4, high: 2.6, damping: 0.12 },
  { length: 0.14, low: 1.8, high: 3.2, damping: 0.14 },
] as const;

export interface Branch extends Swing {
  /** Hertz: that of the spring that holds it, as assumed, however quickly it was seen to go to and fro. */
  spring: number;
  /** Metres. */
  length: number;
  /** Way that it goes, a unit vector: mostly across the view. */
  wayX: number;
  wayY: number;
  /** Metres from the left edge of the view, where the wind comes from. */
  downwind: number;
}

/** Foliage parted into branches, and every branch's holds on the net side by side. */
export interface Branches {
  list: Branch[];
  /** Pixels per metre. */
  scale: number;
  node: Uint32Array;
  branch: Uint32Array;
  /** Pixels that the crossing goes for each pixel of the branch's tip. */
  shareX: Float32Array;
  shareY: Float32Array;
}

/** A place where a branch of one size may stand, pixels, and its root's direction. */
interface Stand {
  x: number;
  y: number;
  rootX: number;
  rootY: number;
  /** In the list of branches; -1 until it holds any foliage. */
  branch: number;
}

/**
 * Parts foliage into patches about as large as a branch, for each size anew: a Voronoi net of jittered stands, soft at
 * the borders, each patch moving as its own branch and more from root to tip.
 *
 * @param foliage how much there is at each crossing of the net, 0..1
 * @param scale pixels per metre at the foliage
 * @param seed what chance follows from
 * @param rhythm their frequencies against those assumed
 */
export function branchesOf(
  net: Net,
  foliage: Float32Array,
  scale: number,
  seed: string,
  rhythm = 1,
): Branches {
  const { list, ...holds } = partedBy(net, foliage, scale, seed);
  return {
    ...holds,
    list: list.map((branch) => ({ ...branch, frequency: rhythm * branch.spring })),
  };
}

let last: { key: string; foliage: Float32Array; parted: Branches } | undefined;

/** The last parting is held: trials of a fit, and winds put onto one clip, differ in how far branches go, not in where they stand. */
function partedBy(net: Net, foliage: Float32Array, scale: number, seed: string): Branches {
  const key = JSON.stringify([net.width, net.height, scale, seed]);
  const isSame = last?.key === key && last.foliage.every((much, node) => much === foliage[node]);
  if (!last || !isSame) last = { key, foliage: foliage.slice(), parted: parted(net, foliage, scale, seed) };
  return last.parted;
}

function parted(net: Net, foliage: Float32Array, scale: number, seed: string): Branches {
  const random = dice(seed, 'wind/branches');
  const list: Branch[] = [];
  // One branch's hold on one crossing of the net: 0 at its root .. 1 at its tip, times how much there is foliage.
  const nodes: number[] = [];
  const holders: number[] = [];
  const shares: number[] = [];
  for (const size of SIZES) {
    // A patch narrower than the net could not be told from its neighbours.
    const length = Math.max(size.length * scale, 2 * net.mesh);
    const spacing = 0.6 * length;
    const stands = standsOf(net, spacing, length, random);
    const across = Math.ceil(net.width / spacing) + 3;
    for (let node = 0; node < foliage.length; node++) {
      if (foliage[node] === 0) continue;
      const x = (node % net.columns) * net.mesh;
      const y = Math.floor(node / net.columns) * net.mesh;
      for (const [stand, nearness] of nearest(stands, across, spacing, x, y)) {
        const along = alongBranch(stand, length, x, y) * nearness * foliage[node]!;
        if (along < 0.01) continue;
        if (stand.branch < 0) {
          stand.branch = list.length;
          const dip = 0.7 * (random() - 0.5);
          const spring = size.low + (size.high - size.low) * random();
          list.push({
            spring,
            frequency: spring,
            damping: size.damping,
            length: size.length,
            wayX: Math.cos(dip),
            wayY: Math.sin(dip),
            downwind: Math.max(0, stand.x / scale),
          });
        }
        nodes.push(node);
        holders.push(stand.branch);
        shares.push(along);
      }
    }
  }
  return {
    list,
    scale,
    node: Uint32Array.from(nodes),
    branch: Uint32Array.from(holders),
    shareX: Float32Array.from(shares, (share, h) => share * list[holders[h]!]!.wayX),
    shareY: Float32Array.from(shares, (share, h) => share * list[holders[h]!]!.wayY),
  };
}

function standsOf(net: Net, spacing: number, length: number, random: () => number): Stand[] {
  const across = Math.ceil(net.width / spacing) + 3;
  const down = Math.ceil(net.height / spacing) + 3;
  return Array.from({ length: across * down }, (_, i) => {
    const x = ((i % across) - 1 + random()) * spacing;
    const y = (Math.floor(i / across) - 1 + random()) * spacing;
    const way = 2 * Math.PI * random();
    return {
      x,
      y,
      rootX: x - 0.5 * length * Math.cos(way),
      rootY: y - 0.5 * length * Math.sin(way),
      branch: -1,
    };
  });
}

/** The nearest stand and, near the border between them, the second, with shares that add up to 1. */
function nearest(stands: readonly Stand[], across: number, spacing: number, x: number, y: number) {
  const column = Math.floor(x / spacing) + 1;
  const row = Math.floor(y / spacing) + 1;
  let [first, second] = [stands[0]!, stands[0]!];
  let [near, next] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (let j = row - 1; j <= row + 1; j++) {
    for (let i = column - 1; i <= column + 1; i++) {
      const stand = stands[j * across + i];
      if (!stand || i < 0 || i >= across) continue;
      const distance = Math.hypot(stand.x - x, stand.y - y);
      if (distance < near) {
        [second, next] = [first, near];
        [first, near] = [stand, distance];
      } else if (distance < next) {
        [second, next] = [stand, distance];
      }
    }
  }
  const share = Math.min(1, 0.5 + (next - near) / (0.5 * spacing));
  return [[first, share] as const, [second, 1 - share] as const];
}

function alongBranch(stand: Stand, length: number, x: number, y: number): number {
  const [wx, wy] = [2 * (stand.x - stand.rootX), 2 * (stand.y - stand.rootY)];
  const along = ((x - stand.rootX) * wx + (y - stand.rootY) * wy) / (length * length);
  return Math.min(1, Math.max(0, along)) ** 1.5;
}

/**
 * Adds the branches' sway to a net, away from where their mean lean would hold them: a camera sees what changes.
 *
 * @param pulls the steady acceleration, m/s2, that would hold each branch where it is now
 * @param lean the mean of those
 * @param sway what all movement is multiplied by
 * @param excess share of the movement that is added
 * @returns pixels by which each branch's tip is moved
 */
export function addSway(
  net: Net,
  { list, scale, node, branch, shareX, shareY }: Branches,
  pulls: ArrayLike<number>,
  lean: number,
  sway: number,
  excess: number,
): Float64Array {
  const { dx, dy } = net;
  const moved = new Float64Array(list.length);
  // By index: an iterator takes longer than all that is worked out for a branch.
  for (let i = 0; i < moved.length; i++) {
    const branch = list[i]!;
    moved[i] = scale * excess * (reach(branch, sway * pulls[i]!) - reach(branch, sway * lean));
  }
  for (let h = 0; h < node.length; h++) {
    const q = moved[branch[h]!]!;
    dx[node[h]!]! += q * shareX[h]!;
    dy[node[h]!]! += q * shareY[h]!;
  }
  return moved;
}

/** Metres that a tip is off its rest: never more than the branch is long, for it turns about its root (sin of atan). */
function reach({ length, spring }: Branch, acceleration: number): number {
  const q = deflection(acceleration, spring) / length;
  return (length * q) / Math.sqrt(1 + q * q);
}
