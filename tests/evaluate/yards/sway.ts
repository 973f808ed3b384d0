import type { Breeze } from './breeze.js';
import type { Dice } from './dice.js';

/** Seconds of one step of the motion. */
const STEP = 0.005;
/** Metres a second at which a plant's give is stated. */
const STATED = 5;

/** How one kind of plant gives way; drawn anew for each yard. */
export interface Give {
  /** Radians at STATED. */
  stated: number;
  /** Drag grows with the speed to the power of 2 + vogel (Vogel 1984). */
  vogel: number;
  /** Hertz of the slowest and the quickest of them. */
  slow: number;
  quick: number;
  /** Share of critical damping in still air. */
  damping: number;
  /** Seconds of the whirls that each feels by itself. */
  whirl: number;
}

export function giveOf(dice: Dice, stiff: { stated: [number, number]; hertz: [number, number] }): Give {
  const middle = dice.ratio(...stiff.hertz);
  return {
    stated: dice.ratio(...stiff.stated),
    vogel: dice.within(-1.2, -0.2),
    slow: middle / 1.4,
    quick: middle * 1.4,
    damping: dice.ratio(0.04, 0.25),
    whirl: dice.ratio(0.1, 0.7),
  };
}

/**
 * A stem in the wind: a row of joints one after the other, each a damped oscillator that the wind's drag turns and the
 * joint before it drags along. One joint is a beam's first mode; three are a hanging chain.
 */
export class Stem {
  /** Radians by which each joint is turned from rest, positive to the right. */
  readonly turned: Float64Array;
  readonly #speed: Float64Array;
  readonly #omega: Float64Array;
  readonly #dice: Dice;
  readonly #stated: number;
  #whirl: number;
  #across: number;
  #time: number;

  /** @param x metres to the right of the picture's middle; @param reach metres from the root to the tip */
  constructor(
    private readonly breeze: Breeze,
    private readonly give: Give,
    private readonly x: number,
    private readonly reach: number,
    joints: number,
    build: Dice,
    dice: Dice,
  ) {
    this.turned = new Float64Array(joints);
    this.#speed = new Float64Array(joints);
    const first = build.ratio(give.slow, give.quick);
    // Each joint farther out carries less, and is quicker.
    this.#omega = Float64Array.from({ length: joints }, (_, j) => 2 * Math.PI * first * (1 + 0.7 * j));
    this.#stated = (give.stated * build.ratio(0.7, 1.4)) / Math.sqrt(joints);
    this.#dice = dice;
    this.#whirl = dice.bell();
    this.#across = dice.bell();
    this.#time = -6;
  }

  /** Lets it swing on to a time, seconds. */
  swing(time: number): void {
    const { whirl } = this.give;
    const keeps = Math.exp((-4 * STEP) / whirl);
    const by = Math.sqrt(1 - keeps * keeps);
    while (this.#time < time) {
      this.#whirl = this.#whirl * keeps + by * this.#dice.bell();
      this.#across = this.#across * keeps + by * this.#dice.bell();
      const wind = this.breeze.at(this.#time, this.x, this.#whirl, this.#across);
      for (let k = 0; k < 4; k++) this.#step(wind);
      this.#time += 4 * STEP;
    }
  }

  #step(wind: number): void {
    const { turned } = this;
    const { vogel, damping } = this.give;
    let [carried, before] = [0, 0];
    for (let j = 0; j < turned.length; j++) {
      const omega = this.#omega[j]!;
      const joint = this.reach / turned.length;
      const felt = wind - this.#speed[j]! * joint;
      const drag = Math.sign(felt) * this.#stated * (Math.abs(felt) / STATED) ** (2 + vogel);
      // The more it is turned the less of it stands across the wind, and the more it resists.
      const load = drag * Math.cos(Math.min(1.4, Math.abs(turned[j]! + carried)));
      const pull = turned[j]! * (1 + 0.4 * turned[j]! ** 2);
      const push = omega * omega * (load - pull) - 2 * damping * omega * this.#speed[j]! - 0.5 * before;
      this.#speed[j]! += push * STEP;
      turned[j]! += this.#speed[j]! * STEP;
      before = push;
      carried += turned[j]!;
    }
  }

  /** Metres a second now, at it. */
  get wind(): number {
    return Math.abs(this.breeze.at(this.#time, this.x, this.#whirl, this.#across));
  }
}
