import seedrandom from 'seedrandom';

/** A 32-bit integer for each seed and purpose, so that more draws for one purpose never change another. */
export function integerSeed(seed: string, purpose: string): number {
  return seedrandom(`${seed}/${purpose}`).int32();
}

/** So many in one frame cannot be told apart; the farthest foliage through the widest lens would show milliards. */
const MOST_AT_ONCE = 500_000;

/** Small and quick, for thousands of draws a frame: xorshift32 (Marsaglia 2003). */
export class Dice {
  private state: number;

  constructor(seed: string, purpose: string) {
    this.state = integerSeed(seed, purpose) | 1;
  }

  /** Uniform on [0, 1). */
  next(): number {
    let s = this.state;
    s ^= s << 13;
    s ^= s >>> 17;
    s ^= s << 5;
    this.state = s;
    return (s >>> 0) / 0x100000000;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.next();
  }

  /** A whole number with the given mean (Poisson), by counting exponential waits; a rounded mean from 200 on, up to a most. */
  count(mean: number): number {
    if (mean >= 200) return Math.round(Math.min(mean, MOST_AT_ONCE));
    let n = 0;
    let left = mean + Math.log(1 - this.next());
    while (left > 0) {
      n++;
      left += Math.log(1 - this.next());
    }
    return n;
  }
}
