import { normal, type Random, xorshift32 } from '../base/random.js';
import { toSignal } from './colour.js';

/** One picture element gathers 3x3 of the sensor's: full well and dark noise in electrons. */
const binned = 9;
const fullWell = 4300 * binned;
const readNoise = 8 * Math.sqrt(binned);

/** Digital numbers per electron at gain 1: the full well is 255. */
export const unitGain = 255 / fullWell;

/** Few enough to stay in the fastest memory; drawn in any order they repeat no pattern. */
const deviates = 1 << 13;
const levels = 1024;
const signals = 4096;

/**
 * Variance (digital numbers squared) of an element at `mean` above dark, by the linear model of EMVA 1288 R3.1 (from
 * memory): K^2 sd^2 + 1/12 + K (mu - mu_dark), for a system gain of `k` digital numbers per electron and dark noise `sd`
 * electrons.
 */
export function noiseVariance(mean: number, k: number, sd: number): number {
  return k * k * sd * sd + 1 / 12 + k * mean;
}

/** Turns linear light into stored bytes: exposure, noise, then the sRGB curve. */
export class Sensor {
  readonly #gauss = new Float32Array(deviates);
  readonly #curve = new Uint8Array(signals + 1);
  readonly #sigma = new Float32Array(levels + 1);
  #gain = 0;

  constructor(r: Random) {
    let sum = 0;
    let squares = 0;
    for (let i = 0; i < deviates; i++) {
      const n = normal(r);
      this.#gauss[i] = n;
      sum += n;
      squares += n * n;
    }
    // A finite table: make its mean and variance exactly those of the model.
    const mean = sum / deviates;
    const deviation = Math.sqrt(squares / deviates - mean * mean);
    for (let i = 0; i < deviates; i++) this.#gauss[i] = (this.#gauss[i]! - mean) / deviation;
    for (let i = 0; i <= signals; i++) this.#curve[i] = Math.round(255 * toSignal(i / signals));
  }

  /**
   * rgb: linear light, 1 = full well after `level`. Writes interleaved RGB bytes (3 for each pixel) or, with `grey`,
   * their BT.601 luminance (1 for each pixel). `seed` names the frame: the same gives the same noise.
   */
  read(
    rgb: Float32Array,
    level: number,
    veil: number,
    gain: number,
    seed: number,
    out: Uint8Array,
    grey: boolean,
  ): void {
    this.#setGain(gain);
    const gauss = this.#gauss;
    const curve = this.#curve;
    const sigma = this.#sigma;
    const scale = level * (1 - veil);
    const lift = level * veil * 0.35;
    // Held here: looking it up in another module for every pixel costs time.
    const next = xorshift32;
    let s = seed | 1;
    let o = 0;
    for (let i = 0; i < rgb.length; i += 3) {
      // Upper and middle bits each pick a deviate.
      s = next(s);
      let v = rgb[i]! * scale + lift;
      v = Math.min(1, Math.max(0, v));
      v += sigma[(v * levels) | 0]! * gauss[s >>> 19]!;
      const red = curve[v <= 0 ? 0 : v >= 1 ? signals : (v * signals + 0.5) | 0]!;
      v = rgb[i + 1]! * scale + lift;
      v = Math.min(1, Math.max(0, v));
      v += sigma[(v * levels) | 0]! * gauss[(s >>> 6) & (deviates - 1)]!;
      const green = curve[v <= 0 ? 0 : v >= 1 ? signals : (v * signals + 0.5) | 0]!;
      s = next(s);
      v = rgb[i + 2]! * scale + lift;
      v = Math.min(1, Math.max(0, v));
      v += sigma[(v * levels) | 0]! * gauss[s >>> 19]!;
      const blue = curve[v <= 0 ? 0 : v >= 1 ? signals : (v * signals + 0.5) | 0]!;
      if (grey) {
        out[o++] = ((299 * red + 587 * green + 114 * blue + 500) / 1000) | 0;
      } else {
        out[o] = red;
        out[o + 1] = green;
        out[o + 2] = blue;
        o += 3;
      }
    }
  }

  #setGain(gain: number): void {
    if (gain === this.#gain) return;
    this.#gain = gain;
    for (let i = 0; i <= levels; i++) {
      const mean = (255 * (i + 0.5)) / levels;
      this.#sigma[i] = Math.sqrt(noiseVariance(mean, unitGain * gain, readNoise)) / 255;
    }
  }
}
