import type { Dice } from './dice.js';

/** How leaves flap in a yard. */
export interface Flapping {
  /** Radians at most, and metres a second at which two thirds of it are there. */
  most: number;
  speed: number;
  /** Hertz of the slowest and the quickest. */
  slow: number;
  quick: number;
  /** How much a turned leaf shines or darkens. */
  shine: number;
}

export function flappingOf(dice: Dice): Flapping {
  const slow = dice.ratio(0.8, 2.5);
  return {
    most: dice.ratio(0.06, 0.5),
    speed: dice.ratio(1, 5),
    slow,
    quick: slow * dice.within(1.6, 3.5),
    shine: dice.within(0.05, 0.45),
  };
}

/** One leaf's own flapping: two sines that never fall into step, and rain that knocks it. */
export class Flap {
  readonly #hertz: number;
  readonly #phase: number;
  readonly #slack: number;
  #knocked = Number.NEGATIVE_INFINITY;
  #knock = 0;

  constructor(
    private readonly flapping: Flapping,
    dice: Dice,
  ) {
    this.#hertz = dice.within(flapping.slow, flapping.quick);
    this.#phase = dice.within(0, 2 * Math.PI);
    this.#slack = dice.within(0.3, 1.7);
  }

  knock(time: number, radians: number): void {
    this.#knocked = time;
    this.#knock = radians;
  }

  /** Radians by which it is turned. */
  at(time: number, wind: number, rings: { hertz: number; lasts: number }): number {
    const { most, speed } = this.flapping;
    const much = most * this.#slack * (1 - Math.exp(-((wind / speed) ** 1.5)));
    const p = 2 * Math.PI * this.#hertz * time + this.#phase;
    let turn = much * (0.7 * Math.sin(p) + 0.5 * Math.sin(1.73 * p + 2 * this.#phase));
    const since = time - this.#knocked;
    if (since >= 0 && since < 4 * rings.lasts) {
      turn += this.#knock * Math.exp(-since / rings.lasts) * Math.cos(2 * Math.PI * rings.hertz * since);
    }
    return turn;
  }

  /** How much brighter it is, turned so: 1 as at rest. */
  shine(turn: number): number {
    return Math.max(0.2, 1 + this.flapping.shine * Math.sin(2 * turn + this.#phase));
  }
}
