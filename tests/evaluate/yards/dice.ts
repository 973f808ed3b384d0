import seedrandom from 'seedrandom';

/** One seed's dice: every figure of a yard is drawn from a range, by a name of its own, so that more draws change no other. */
export class Dice {
  #next: () => number;

  constructor(private readonly seed: string) {
    this.#next = seedrandom.alea(seed);
  }

  /** Dice for another purpose. */
  of(purpose: string | number): Dice {
    return new Dice(`${this.seed} > ${purpose}`);
  }

  /** Uniform on [0, 1). */
  roll(): number {
    return this.#next();
  }

  within(low: number, high: number): number {
    return low + (high - low) * this.#next();
  }

  /** Even in ratio: half the draws below the geometric mean. */
  ratio(low: number, high: number): number {
    return low * (high / low) ** this.#next();
  }

  whole(low: number, high: number): number {
    return low + Math.floor((high - low + 1) * this.#next());
  }

  one<T>(list: readonly T[]): T {
    return list[Math.floor(list.length * this.#next())]!;
  }

  happens(chance: number): boolean {
    return this.#next() < chance;
  }

  /** Standard normal deviate, by the polar method (Marsaglia & Bray 1964). */
  bell(): number {
    for (;;) {
      const [u, v] = [this.within(-1, 1), this.within(-1, 1)];
      const s = u * u + v * v;
      if (s > 0 && s < 1) return u * Math.sqrt((-2 * Math.log(s)) / s);
    }
  }

  /** How many of what comes by chance at `mean` a time (Knuth's product of draws; in parts where the mean is large). */
  count(mean: number): number {
    let n = 0;
    for (let left = mean; left > 0; left -= 30) {
      const end = Math.exp(-Math.min(30, left));
      for (let p = this.#next(); p > end; p *= this.#next()) n++;
    }
    return n;
  }
}
