import { TIME_TOLERANCE } from '../engine/triggers.js';
import type { Stretch } from './stretches.js';

/**
 * Finds which of many stretches hold a time, without looking at each: in as many steps as the logarithm of their number,
 * for each that is found. Stretches may overlap, and stand in any order.
 */
export class StretchIndex {
  /** Places of the stretches in order of start. */
  readonly #order: Uint32Array;
  readonly #starts: Float64Array;
  /** A heap: the latest end below each node; the leaves, in order of start, from `#leaves` on. */
  readonly #latest: Float64Array;
  readonly #leaves: number;

  constructor(stretches: readonly Stretch[]) {
    const places = stretches.map((_, i) => i).sort((a, b) => stretches[a]!.start - stretches[b]!.start);
    this.#order = Uint32Array.from(places);
    this.#starts = Float64Array.from(places, (i) => stretches[i]!.start);
    this.#leaves = 2 ** Math.ceil(Math.log2(Math.max(1, places.length)));
    this.#latest = new Float64Array(2 * this.#leaves).fill(Number.NEGATIVE_INFINITY);
    for (const [k, place] of places.entries()) this.#latest[this.#leaves + k] = stretches[place]!.end;
    for (let node = this.#leaves - 1; node > 0; node--) {
      this.#latest[node] = Math.max(this.#latest[2 * node]!, this.#latest[2 * node + 1]!);
    }
  }

  /** The places of all that hold a time, ends included, rising. */
  at(time: number): number[] {
    const found: number[] = [];
    const begun = this.#begunBy(time);
    const open = begun > 0 ? [{ node: 1, first: 0, size: this.#leaves }] : [];
    for (let next = open.pop(); next; next = open.pop()) {
      const { node, first, size } = next;
      if (first >= begun || !(time <= this.#latest[node]! + TIME_TOLERANCE)) continue;
      if (size === 1) {
        found.push(this.#order[first]!);
        continue;
      }
      const half = size / 2;
      open.push({ node: 2 * node + 1, first: first + half, size: half });
      open.push({ node: 2 * node, first, size: half });
    }
    return found.sort((a, b) => a - b);
  }

  /** Whether any holds a time, ends included. */
  any(time: number): boolean {
    // The nodes that together are the first `begun` leaves.
    let from = this.#leaves;
    for (let to = from + this.#begunBy(time); from < to; from >>= 1, to >>= 1) {
      if (from & 1 && time <= this.#latest[from++]! + TIME_TOLERANCE) return true;
      if (to & 1 && time <= this.#latest[--to]! + TIME_TOLERANCE) return true;
    }
    return false;
  }

  /** How many start no later than a time. */
  #begunBy(time: number): number {
    let low = 0;
    let high = this.#starts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (time >= this.#starts[middle]! - TIME_TOLERANCE) low = middle + 1;
      else high = middle;
    }
    return low;
  }
}

const made = new WeakMap<readonly Stretch[], StretchIndex>();

/** The index of some stretches, which do not change any more; made when first asked for. */
export function indexOf(stretches: readonly Stretch[]): StretchIndex {
  let index = made.get(stretches);
  if (!index) {
    index = new StretchIndex(stretches);
    made.set(stretches, index);
  }
  return index;
}
