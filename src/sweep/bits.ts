/** One bit for each of some things that are numbered, in whole words of 32. */
export function wordsFor(count: number): number {
  return Math.ceil(count / 32);
}

/** @param from the word with bit 0 */
export function hasBit(bits: Uint32Array, place: number, from = 0): boolean {
  return (bits[from + (place >>> 5)]! & (1 << (place & 31))) !== 0;
}

/** Whether the bit was not set before. */
export function setBit(bits: Uint32Array, place: number): boolean {
  if (hasBit(bits, place)) return false;
  bits[place >>> 5]! |= 1 << (place & 31);
  return true;
}
