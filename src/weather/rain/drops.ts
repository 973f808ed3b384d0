import type { Random } from '../../base/random.js';

/** Smaller drops are neither seen nor felt by a leaf; mm. */
export const SMALLEST = 1;
/** Larger drops break up; mm. */
const LARGEST = 5.8;
/** Drops per cubic metre and mm of diameter at diameter 0 (Marshall & Palmer 1948; 8000 from memory). */
const N0 = 8000;
const STEP = 0.01;
const PARTS = 256;
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

/** Drops of each mm of diameter in a cubic metre, where there were fewer or none (Marshall & Palmer 1948). */
function added(diameter: number, rain: number, was: number): number {
  const density = (r: number) => (r > 0 ? N0 * Math.exp(-slope(r) * diameter) : 0);
  return density(rain) - density(was);
}

/**
 * How much rain dims what is behind it, where there was less or none: minus the logarithm of the share of light that comes
 * through. A drop takes twice its cross-section, for it is far larger than a wavelength (van de Hulst 1957).
 * @param metresOf how far the light goes among drops of a diameter, mm
 */
export function opticalDepth(rain: number, was: number, metresOf: (diameter: number) => number): number {
  let depth = 0;
  for (let d = STEP / 2; d < LARGEST; d += STEP) {
    depth += ((2 * Math.PI) / 4) * d ** 2 * 1e-6 * added(d, rain, was) * metresOf(d) * STEP;
  }
  return depth;
}

/** Sizes of drops where there were fewer or none, each counted by a weight (Marshall & Palmer 1948). */
class Sizes {
  /** All of them together. */
  readonly sum: number;
  private readonly upTo: number[] = [];
  /** The first of them that each part of their sum may fall on (Chen & Asau 1974, from memory): drawing searches no farther back. */
  private readonly begins: number[];

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
    for (let d = smallest + STEP / 2; d < LARGEST; d += STEP) {
      sum += added(d, rain, was) * weight(d) * STEP;
      this.upTo.push(sum);
    }
    this.sum = sum;
    this.begins = Array.from({ length: PARTS }, (_, part) => this.firstAbove((part / PARTS) * sum, 0));
  }

  /** Diameter of one of them, mm. */
  draw(dice: Random): number {
    return this.diameter(this.pick(dice));
  }

  /** Which size one of them has. */
  pick(dice: Random): number {
    const share = dice();
    return this.firstAbove(share * this.sum, this.begins[(share * PARTS) | 0]!);
  }

  /** Of a size, mm. */
  diameter(size: number): number {
    return this.smallest + (size + 0.5) * STEP;
  }

  /** Something worked out for each size. */
  each(of: (diameter: number) => number): Float64Array {
    return Float64Array.from(this.upTo, (_, size) => of(this.diameter(size)));
  }

  private firstAbove(sought: number, begin: number): number {
    const last = this.upTo.length - 1;
    let size = begin;
    while (size < last && this.upTo[size]! <= sought) size++;
    return size;
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
