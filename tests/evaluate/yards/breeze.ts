import type { Dice } from './dice.js';

/** Middle of each Beaufort number's range, metres a second at 10 m (WMO's table). */
const MIDDLE = [0.1, 0.9, 2.4, 4.4, 6.7, 9.3, 12.3, 15.5, 18.9];
/** Seconds between two kept values, and before the clip's start. */
const STEP = 0.02;
const BEFORE = 30;

/** A yard's air, the same whatever the day's wind: how much of it gets in and how unruly it is. */
export interface Air {
  /** Share of the open wind that reaches the plants. */
  arrives: number;
  /** Standard deviation over mean, along and across the wind. */
  unruly: number;
  across: number;
  /** Seconds of the long gusts, of the short, and of the whirls; their shares of the variance. */
  long: number;
  short: number;
  shares: [long: number, short: number];
  /** How much more gusts exceed the mean than lulls fall below it. */
  skew: number;
  /** Cosine of the wind's way to the picture's plane, and speed of travelling gusts over that of the wind. */
  along: number;
  travels: number;
}

export function airOf(dice: Dice): Air {
  const first = dice.within(0.3, 0.6);
  return {
    arrives: dice.within(0.35, 0.75),
    unruly: dice.within(0.22, 0.5),
    across: dice.within(0.4, 0.9),
    long: dice.ratio(6, 30),
    short: dice.ratio(1, 4),
    shares: [first, dice.within(0.5, 0.8) * (1 - first)],
    skew: dice.within(0, 0.35),
    along: Math.cos(dice.within(0, 1.1)) * (dice.happens(0.5) ? 1 : -1),
    travels: dice.within(0.7, 1.1),
  };
}

/**
 * Wind at the plants: the mean, gusts that travel down the yard with it, and whirls of each place's own. Gusts follow
 * a first-order autoregression of two timescales, so that together their spectrum falls ever more steeply.
 */
export class Breeze {
  readonly mean: number;
  readonly #along: Float32Array;
  readonly #across: Float32Array;

  constructor(
    readonly air: Air,
    beaufort: number,
    seconds: number,
    dice: Dice,
  ) {
    const low = Math.floor(beaufort);
    const open = MIDDLE[low]! + (beaufort - low) * (MIDDLE[low + 1]! - MIDDLE[low]!);
    this.mean = open * air.arrives;
    const n = Math.ceil((seconds + 2 * BEFORE) / STEP);
    this.#along = this.#gusts(n, dice.of('along'));
    this.#across = this.#gusts(n, dice.of('across'));
  }

  #gusts(n: number, dice: Dice): Float32Array {
    const { long, short, shares } = this.air;
    const parts = [long, short].map((seconds, i) => {
      const keeps = Math.exp(-STEP / seconds);
      return {
        keeps,
        by: Math.sqrt(shares[i]! * (1 - keeps * keeps)),
        now: Math.sqrt(shares[i]!) * dice.bell(),
      };
    });
    return Float32Array.from({ length: n }, () => {
      let sum = 0;
      for (const part of parts) {
        part.now = part.now * part.keeps + part.by * dice.bell();
        sum += part.now;
      }
      return sum;
    });
  }

  /**
   * Speed across the view, metres a second, left to right.
   * @param x metres to the right of the picture's middle
   * @param whirl this place's own deviates, standard normal, along and across the wind
   */
  at(time: number, x: number, whirl: number, whirlAcross: number): number {
    const { unruly, across, shares, skew, along, travels } = this.air;
    const late = (x * along) / Math.max(0.3, this.mean * travels);
    const i = Math.max(0, Math.min(this.#along.length - 1, Math.round((time - late + BEFORE) / STEP)));
    const own = Math.sqrt(1 - shares[0] - shares[1]);
    const g = this.#along[i]! + own * whirl;
    const gust = 1 + unruly * (g + skew * (g * g - 1));
    const side = unruly * across * (this.#across[i]! + own * whirlAcross);
    return this.mean * (Math.max(0, gust) * along + side * Math.sqrt(1 - along * along));
  }
}
