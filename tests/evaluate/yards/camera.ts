import type { Dice } from './dice.js';

/** A yard's camera; all drawn from ranges for each yard. */
export interface Kit {
  /** Electrons of a white place for each lux second, and what the well holds. */
  efficiency: number;
  well: number;
  /** Longest exposure, seconds, and most gain. */
  longest: number;
  mostGain: number;
  /** Electrons of read noise, and of noise that all of a row share. */
  read: number;
  row: number;
  /** Share of each pixel's noise that it has from its neighbours. */
  shared: number;
  /** Share of pixels that jump, and how many times farther. */
  jumpy: number;
  jumps: number;
  /** Unevenness of the elements themselves, a share of the light. */
  uneven: number;
  /** Exponent of the tone curve, and how much it bends into an S. */
  tone: number;
  contrast: number;
  /** Slow changes of the light by cloud: standard deviation, and seconds. */
  clouds: number;
  cloudy: number;
}

export function kitOf(dice: Dice): Kit {
  // From an element for each pixel, the others skipped, to a dozen summed.
  const summed = dice.ratio(1, 12);
  return {
    efficiency: dice.ratio(150, 600) * summed,
    well: dice.ratio(4000, 9000) * summed,
    longest: dice.one([1 / 50, 1 / 25, 1 / 15, 1 / 10]),
    mostGain: dice.ratio(6, 32),
    read: dice.ratio(2, 7) * Math.sqrt(summed),
    row: dice.within(0, 0.6),
    shared: dice.within(0, 0.6),
    jumpy: dice.within(0, 0.004),
    jumps: dice.within(2.5, 5),
    uneven: dice.within(0.002, 0.01),
    tone: dice.within(0.42, 0.52),
    contrast: dice.within(0, 0.35),
    clouds: dice.within(0, 0.03),
    cloudy: dice.within(15, 60),
  };
}

/** Exposure in a light: seconds, gain, and white in electrons. Time is spent before gain, gain before darkness. */
export function exposureOf(kit: Kit, lux: number): { seconds: number; gain: number; white: number } {
  // Where white fills the well with gain 1, at so many seconds.
  const seconds = Math.min(kit.longest, kit.well / (kit.efficiency * lux));
  const white = kit.efficiency * lux * seconds;
  return { seconds, gain: Math.min(kit.mostGain, kit.well / white), white };
}

const DEVIATES = 1 << 16;
/** Of the tone curve. */
const STEPS = 4096;

/** Turns light into what the camera gives: bytes of luminance. */
export class Sensor {
  readonly #uneven: Float32Array;
  readonly #deviates: Float32Array;
  readonly #noise: Float32Array;
  readonly #curve: Uint8Array;
  readonly #out: Uint8Array;
  readonly #white: number;
  readonly #gain: number;
  #cloud: number;
  #at: number | null = null;

  constructor(
    private readonly kit: Kit,
    private readonly width: number,
    private readonly height: number,
    lux: number,
    build: Dice,
    private readonly dice: Dice,
  ) {
    const { white, gain } = exposureOf(kit, lux);
    this.#white = white;
    this.#gain = gain;
    const pixels = width * height;
    this.#uneven = Float32Array.from({ length: pixels }, () => 1 + kit.uneven * build.bell());
    this.#deviates = Float32Array.from({ length: DEVIATES }, () => dice.bell());
    this.#noise = new Float32Array(pixels);
    this.#out = new Uint8Array(pixels);
    this.#cloud = dice.bell();
    this.#curve = Uint8Array.from({ length: STEPS + 1 }, (_, i) => {
      const t = (i / STEPS) ** kit.tone;
      const s = t * t * (3 - 2 * t);
      return Math.round(255 * (t + kit.contrast * (s - t)));
    });
  }

  /** @returns the same array every time */
  take(light: Float32Array, time: number): Uint8Array {
    const { kit, width, height } = this;
    const [noise, deviates, uneven, out, curve] = [
      this.#noise,
      this.#deviates,
      this.#uneven,
      this.#out,
      this.#curve,
    ];
    const passed = this.#at === null ? 0 : time - this.#at;
    this.#at = time;
    const stays = Math.exp(-passed / kit.cloudy);
    this.#cloud = this.#cloud * stays + Math.sqrt(1 - stays * stays) * this.dice.bell();
    this.#hiss();
    // A pixel and its right and lower neighbours share noise, as where colours are put together from neighbours.
    const near = kit.shared / 2;
    const keep = 1 / Math.sqrt(1 + 2 * near * near);
    const bright = (1 + kit.clouds * this.#cloud) * this.#white;
    const scale = (this.#gain / kit.well) * STEPS;
    const read = kit.read ** 2;
    for (let y = 0; y < height; y++) {
      const row = kit.row * deviates[Math.floor(DEVIATES * this.dice.roll())]!;
      const down = y + 1 < height ? width : -width;
      for (let i = y * width, end = i + width; i < end; i++) {
        const n =
          keep * (noise[i]! + near * (noise[i + 1 < noise.length ? i + 1 : i - 1]! + noise[i + down]!));
        const electrons = light[i]! * uneven[i]! * bright;
        const signal = (electrons + n * Math.sqrt(electrons + read) + row) * scale;
        out[i] = curve[signal <= 0 ? 0 : signal >= STEPS ? STEPS : (signal + 0.5) | 0]!;
      }
    }
    return out;
  }

  /** Noise for every pixel: standard normal deviates, each row's from another place of the store, and some that jump. */
  #hiss(): void {
    const { kit, width, height, dice } = this;
    const noise = this.#noise;
    for (let y = 0; y < height; y++) {
      const from = Math.floor((DEVIATES - width) * dice.roll());
      noise.set(this.#deviates.subarray(from, from + width), y * width);
    }
    for (let n = dice.count(kit.jumpy * noise.length); n > 0; n--) {
      noise[Math.floor(noise.length * dice.roll())]! *= kit.jumps;
    }
  }
}
