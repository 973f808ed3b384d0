import seedrandom from 'seedrandom';

/** Uniform on [0, 1). */
export type Random = () => number;

/** A stream of its own for each purpose, so that more draws for one never change another. */
export function random(seed: string, purpose: string): Random {
  return seedrandom(`${seed}/${purpose}`);
}

/**
 * The next random number after `state`, and the state to go on from: xorshift32 (Marsaglia 2003, J. Stat. Softw. 8:14).
 * For loops over pixels.
 *
 * @param state 32 bits, not all 0
 * @returns as a signed integer
 */
export function xorshift32(state: number): number {
  let s = state;
  s ^= s << 13;
  s ^= s >>> 17;
  return s ^ (s << 5);
}

/** As `random`, by xorshift32: small and quick, for thousands of draws a frame. */
export function quickRandom(seed: string, purpose: string): Random {
  let state = seedOf(seed, purpose) | 1;
  return () => {
    state = xorshift32(state);
    return (state >>> 0) / 0x100000000;
  };
}

export function between(r: Random, low: number, high: number): number {
  return low + (high - low) * r();
}

export function pick<T>(r: Random, list: readonly T[]): T {
  return list[Math.floor(r() * list.length)]!;
}

/** Standard normal deviate (Box & Muller 1958). */
export function normal(r: Random): number {
  return Math.sqrt(-2 * Math.log(1 - r())) * Math.cos(2 * Math.PI * r());
}

/** So many at once cannot be told apart; the farthest foliage through the widest lens would show milliards of drops. */
const MOST_AT_ONCE = 500_000;

/** A whole number with the given mean (Poisson), by counting exponential waits; a rounded mean from 200 on, up to a most. */
export function poisson(r: Random, mean: number): number {
  if (mean >= 200) return Math.round(Math.min(mean, MOST_AT_ONCE));
  let n = 0;
  let left = mean + Math.log(1 - r());
  while (left > 0) {
    n++;
    left += Math.log(1 - r());
  }
  return n;
}

export function shuffled<T>(r: Random, list: readonly T[]): T[] {
  const out = [...list];
  for (let i = out.length - 1; i > 0; i--) {
    const j = Math.floor(r() * (i + 1));
    [out[i], out[j]] = [out[j]!, out[i]!];
  }
  return out;
}

/** A 32-bit seed for xorshift32 and mix, for each purpose another. */
export function seedOf(seed: string, purpose: string): number {
  return seedrandom(`${seed}/${purpose}`).int32();
}

/** Three integers mixed into 32 bits (finaliser of MurmurHash3, Appleby 2008): random access without state. */
export function mix(a: number, b: number, c: number): number {
  let h = Math.imul(a, 0x9e3779b1) ^ Math.imul(b, 0x85ebca6b) ^ Math.imul(c, 0xc2b2ae35);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

/** mix() on [0, 1). */
export function chance(a: number, b: number, c: number): number {
  return mix(a, b, c) / 0x100000000;
}

/** `n` times over [0, seconds), one in each equal part, so that any stretch of a clip has its share. */
export function spread(r: Random, perHour: number, seconds: number): number[] {
  const n = Math.round((perHour * seconds) / 3600);
  return Array.from({ length: n }, (_, i) => ((i + between(r, 0.1, 0.9)) * seconds) / n);
}
