import type { Random } from '../base/random.js';
import { figureOf } from './assumptions.js';
import { strikes } from './drops.js';
import type { Setup } from './setup.js';
import { focalPixels, SKY } from './streaks.js';

/** Length of a leaf, metres; assumed. */
export const LEAF_LENGTH = 0.06;
/** Radians that a struck leaf turns, and seconds in which the turn falls to 1/e; assumed. */
export const KNOCK_TURN = 0.9;
export const KNOCK_LASTS = 0.2;
/** Change of brightness of a dark leaf turned by a radian, for its other side shows; what is as bright as the sky is no leaf. Assumed. */
export const KNOCK_GLINT = 0.55;
/** However many drops strike at once; radians. */
const MOST_TURN = 1.5;
/** Smaller turns are not seen; radians. */
const STILL = 0.1;
/** Leaves are drawn as patches no smaller than this; pixels. */
const SMALLEST = 1.5;

/** Leaves knocked by drops: patches of foliage that turn about their stalk and come back. */
export class Knocks {
  private readonly x: Float32Array;
  private readonly y: Float32Array;
  private readonly stalk: Float32Array;
  private readonly turn: Float32Array;
  private readonly half: number;
  /** Knocks of one leaf in a second. */
  private readonly rate: number;
  private readonly patch: Float32Array;

  constructor(
    private readonly setup: Setup,
    private readonly dice: Random,
  ) {
    const { width, geometry, foliage, from, to } = setup;
    const focal = focalPixels(width, geometry.hfov);
    this.half = Math.max(SMALLEST, (focal * LEAF_LENGTH) / geometry.foliage / 2);
    // A leaf shows about half of the square of its length, and drops strike what they would strike of it lying level.
    const pixels = 2 * this.half ** 2;
    const squareMetres = pixels * (geometry.foliage / focal) ** 2;
    this.rate =
      figureOf(setup, 'leaves struck') * squareMetres * (strikes(to.rain ?? 0) - strikes(from.rain ?? 0));
    const shown = foliage.reduce((a, b) => a + b, 0) / 255;
    const places = placed(foliage, Math.round(shown / pixels), dice);
    this.x = Float32Array.from(places, (at) => (at % width) + dice());
    this.y = Float32Array.from(places, (at) => Math.floor(at / width) + dice());
    this.stalk = Float32Array.from(places, () => dice() * 2 * Math.PI);
    this.turn = new Float32Array(places.length);
    const side = 2 * Math.ceil(this.half) + 4;
    this.patch = new Float32Array(side * side);
  }

  /** @param hidden whether something in front hides a place */
  draw(picture: Float32Array, passed: number, hidden: (x: number, y: number) => boolean): void {
    const { turn, dice } = this;
    const keep = Math.exp(-passed / KNOCK_LASTS);
    const chance = 1 - Math.exp(-this.rate * passed);
    for (let n = 0; n < turn.length; n++) {
      turn[n]! *= keep;
      const r = dice();
      if (r < chance) {
        const turned = turn[n]! + (r < chance / 2 ? -KNOCK_TURN : KNOCK_TURN);
        turn[n] = Math.max(-MOST_TURN, Math.min(MOST_TURN, turned));
      }
      if (Math.abs(turn[n]!) > STILL && !hidden(this.x[n]!, this.y[n]!)) this.drawTurned(picture, n);
    }
  }

  /** Turns a disc of the picture about the leaf's stalk on its edge: wholly in the middle, not at all at the edge. */
  private drawTurned(picture: Float32Array, n: number): void {
    const { half, patch } = this;
    const { width, height } = this.setup;
    const cx = this.x[n]!;
    const cy = this.y[n]!;
    const angle = this.turn[n]!;
    const perSquare = 1 / (half * half);
    const x0 = Math.max(0, Math.floor(cx - half));
    const y0 = Math.max(0, Math.floor(cy - half));
    const wide = Math.min(width, Math.ceil(cx + half) + 1) - x0;
    const tall = Math.min(height, Math.ceil(cy + half) + 1) - y0;
    if (wide < 2 || tall < 2) return;
    for (let j = 0; j < tall; j++) {
      const from = (y0 + j) * width + x0;
      for (let i = 0; i < wide; i++) patch[j * wide + i] = picture[from + i]!;
    }
    const stalkX = cx + half * Math.cos(this.stalk[n]!);
    const stalkY = cy + half * Math.sin(this.stalk[n]!);
    const glint = KNOCK_GLINT * angle;
    const perSky = 1 / SKY;
    for (let j = 0; j < tall; j++) {
      const dy = y0 + j + 0.5 - cy;
      const ry = y0 + j + 0.5 - stalkY;
      for (let i = 0; i < wide; i++) {
        const dx = x0 + i + 0.5 - cx;
        const weight = 1 - (dx * dx + dy * dy) * perSquare;
        if (weight <= 0) continue;
        const a = angle * weight;
        // Sine and cosine to third order: turns stay small.
        const sin = a - (a * a * a) / 6;
        const cos = 1 - (a * a) / 2;
        const rx = x0 + i + 0.5 - stalkX;
        const sx = Math.min(wide - 1.001, Math.max(0, stalkX + rx * cos - ry * sin - 0.5 - x0));
        const sy = Math.min(tall - 1.001, Math.max(0, stalkY + rx * sin + ry * cos - 0.5 - y0));
        const at = (sy | 0) * wide + (sx | 0);
        const fx = sx - (sx | 0);
        const fy = sy - (sy | 0);
        const upper = patch[at]! + fx * (patch[at + 1]! - patch[at]!);
        const lower = patch[at + wide]! + fx * (patch[at + wide + 1]! - patch[at + wide]!);
        const value = upper + fy * (lower - upper);
        picture[(y0 + j) * width + x0 + i] = value * (1 + glint * weight * (1 - value * perSky));
      }
    }
  }
}

/** Places of leaves, as many in each part of the foliage as it holds. */
function placed(foliage: Uint8Array, count: number, dice: Random): number[] {
  const places: number[] = [];
  while (places.length < count) {
    const at = Math.floor(dice() * foliage.length);
    if (dice() * 255 < foliage[at]!) places.push(at);
  }
  return places;
}
