import type { SiteWind } from './profile.js';
import { sumOf, synthesise, type Wave } from './spectrum.js';

/** Slowest gusts, hertz: a swell of a quarter of an hour. */
const SLOWEST = 0.001;

/** Steps in the round of the quick gusts, which each place enters at a point of its own. */
const ROUND = 4096;

/** Steps of slow gusts kept for places downwind. */
const KEPT = 256;

/**
 * Gusts slower than U / (decay * separation) reach neighbouring branches alike, quicker ones each branch on its own
 * (coherence exp(-decay n separation / U), Davenport 1961, Q. J. R. Meteorol. Soc. 87:194-211, from memory).
 * Decay 10; separation in metres.
 */
const DECAY = 10;
const SEPARATION = 0.5;

/**
 * Wind speed at many places of one site, step by step: mean and a random part with Kaimal's spectrum, slow gusts
 * travelling past all of them, quick gusts different at each.
 */
export class Gusts {
  /** Metres per second at each place, at the current step. */
  readonly speeds: Float32Array;
  readonly #mean: number;
  readonly #slow: Wave[];
  readonly #quick: Float32Array;
  readonly #past = new Float32Array(KEPT);
  readonly #delay: Uint32Array;
  readonly #entry: Uint32Array;
  readonly #step: number;
  #at = 0;

  /**
   * @param step seconds
   * @param downwind metres from the upwind edge, one for each place
   */
  constructor(wind: SiteWind, step: number, downwind: readonly number[], random: () => number) {
    const { mean, intensity, height } = wind;
    const [timescale, deviation] = [height / mean, mean * intensity];
    const highest = 1 / (2 * step);
    const split = Math.min(highest / 2, Math.max(4 * SLOWEST, mean / (DECAY * SEPARATION)));
    this.#mean = mean;
    this.#step = step;
    this.#slow = synthesise(SLOWEST, split, 60, timescale, deviation, random);
    const round = ROUND * step;
    const quick = synthesise(split, highest, 60, timescale, deviation, random).map((w) => ({
      ...w,
      // Whole turns in a round: it closes without a seam.
      frequency: Math.max(1, Math.round(w.frequency * round)) / round,
    }));
    this.#quick = roundOf(quick, step);
    this.speeds = new Float32Array(downwind.length);
    this.#delay = Uint32Array.from(downwind, (d) => Math.min(KEPT - 1, Math.round(d / mean / step)));
    this.#entry = Uint32Array.from(downwind, () => Math.floor(random() * ROUND));
    this.seek(0);
  }

  /** Goes to the step at `time` seconds, from anywhere. */
  seek(time: number): void {
    this.#at = Math.round(time / this.#step);
    for (let ago = KEPT - 1; ago > 0; ago--) {
      const i = this.#at - ago;
      this.#past[i & (KEPT - 1)] = sumOf(this.#slow, i * this.#step);
    }
    this.#blow();
  }

  /** Goes on by one step. */
  advance(): void {
    this.#at++;
    this.#blow();
  }

  #blow(): void {
    const { speeds } = this;
    const [at, mean, past, delay] = [this.#at, this.#mean, this.#past, this.#delay];
    const [entry, quick] = [this.#entry, this.#quick];
    past[at & (KEPT - 1)] = sumOf(this.#slow, at * this.#step);
    for (let p = 0; p < speeds.length; p++) {
      const slow = past[(at - delay[p]!) & (KEPT - 1)]!;
      speeds[p] = Math.max(0, mean + slow + quick[(at + entry[p]!) & (ROUND - 1)]!);
    }
  }
}

let last: { key: string; speeds: Float32Array } | undefined;

/** One round of quick gusts. The last one is held: trials of a fit differ in what the wind moves, not in how it blows. */
function roundOf(waves: readonly Wave[], step: number): Float32Array {
  const key = JSON.stringify([waves, step]);
  if (last?.key !== key)
    last = { key, speeds: Float32Array.from({ length: ROUND }, (_, i) => sumOf(waves, i * step)) };
  return last.speeds;
}
