import type { Random } from '../base/random.js';

/** Smaller drops are neither seen nor felt by a leaf; mm. */
const SMALLEST = 1;
/** Larger drops break up; mm. */
const LARGEST = 5.8;
/** Drops per cubic metre and mm of diameter at diameter 0 (Marshall & Palmer 1948; 8000 from memory). */
const N0 = 8000;
const STEP = 0.01;
/** Kilograms of water in a cubic millimetre. */
const WATER = 1e-6;

/** Slope of the drop sizes at `rain` mm/h, per mm (Marshall & Palmer 1948). */
export function slope(rain: number): number {
  return 4.1 * rain ** -0.21;
}

/** Terminal speed of a drop of `diameter` mm, m/s (Atlas et al. 1973). */
export function fallSpeed(diameter: number): number {
  return Math.max(0, 9.65 - 10.3 * Math.exp(-0.6 * diameter));
}

/** Cubic millimetres in a drop of `diameter` mm. */
export function volumeOf(diameter: number): number {
  return (Math.PI / 6) * diameter ** 3;
}

/** Newton seconds that a drop of `diameter` mm brings at `speed` m/s. */
export function momentum(diameter: number, speed: number): number {
  return WATER * volumeOf(diameter) * speed;
}

/**
 * Share of the light that rain takes on each metre: twice the drops' cross-sections, for they are far larger than a wavelength
 * (van de Hulst 1957), which of the sizes of Marshall & Palmer 1948 comes to pi N0 / slope^3 square millimetres a cubic metre.
 */
export function extinction(rain: number): number {
  return rain > 0 ? (Math.PI * N0) / slope(rain) ** 3 / 1e6 : 0;
}

/** Sizes of drops where there were fewer or none, each counted by a weight (Marshall & Palmer 1948). */
class Sizes {
  /** All of them together. */
  readonly sum: number;
  private readonly upTo: number[] = [];

  /**
   * @param rain mm/h, and what it was
   * @param weight of a drop of a diameter in mm
   */
  constructor(
    rain: number,
    was: number,
    weight: (diameter: number) => number,
    private readonly smallest: number,
  ) {
    let sum = 0;
    const density = (d: number, r: number) => (r > 0 ? N0 * Math.exp(-slope(r) * d) : 0);
    for (let d = smallest + STEP / 2; d < LARGEST; d += STEP) {
      sum += (density(d, rain) - density(d, was)) * weight(d) * STEP;
      this.upTo.push(sum);
    }
    this.sum = sum;
  }

  /** Diameter of one of them, mm. */
  draw(dice: Random): number {
    const sought = dice() * this.sum;
    let low = 0;
    let high = this.upTo.length - 1;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.upTo[middle]! > sought) high = middle;
      else low = middle + 1;
    }
    return this.smallest + (low + 0.5) * STEP;
  }
}

/** Drops that hang in a cubic metre of air at one moment; `sum` of them. */
export class Hanging extends Sizes {
  constructor(rain: number, was: number) {
    super(rain, was, () => 1, SMALLEST);
  }
}

/** Drops of one size and more that strike a level square metre, where there were fewer or none. */
export class Falling extends Sizes {
  constructor(rain: number, was: number, smallest = SMALLEST) {
    super(rain, was, fallSpeed, smallest);
  }

  /** In a second. */
  get strikes(): number {
    return this.sum;
  }
}
