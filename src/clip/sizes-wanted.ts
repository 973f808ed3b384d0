import type { Size } from './outlet.js';

/** One size, with all frames that are wanted at it. */
export interface SizeWanted extends Size {
  /** Rising. */
  indices: Uint32Array;
}

/** One frame at one of the sizes, by its place among them. */
export interface SizeSeen {
  index: number;
  size: number;
  y: Uint8Array;
}

/** All numbers of several rising lists, each once, rising. */
export function unionOf(lists: readonly ArrayLike<number>[]): Uint32Array {
  return Uint32Array.from(new Set(lists.flatMap((list) => Array.from(list)))).sort();
}
