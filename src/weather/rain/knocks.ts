import { poisson, type Random } from '../../base/random.js';
import { figureOf } from '../assumptions.js';
import { LIGHT_STEPS, signalOfLight } from '../gamma.js';
import type { Setup } from '../setup.js';
import { Falling, fallSpeed, momentum, volumeOf } from './drops.js';
import { focalPixels, lightOf } from './streaks.js';

/** Leaves that face all ways show half of their area to whatever comes from one side (Ross 1981, from memory). */
const SHOWN = 0.5;
/** Metres that a drip falls from leaf to leaf. */
const DRIP_FALLS = 0.3;
const GRAVITY = 9.81;
/** However many drops strike at once; radians. */
const MOST_TURN = 1.5;
/** Smaller turns are not seen; radians. */
const STILL = 0.05;
/** Leaves are drawn as patches no smaller than this; pixels. */
const SMALLEST = 1.5;

/** A leaf as a plate that nods about its stalk. */
export interface Leaf {
  /** Metres. */
  length: number;
  /** Kilograms to the square metre, times nods a second: a heavy leaf that nods slowly goes as far as a light one that nods quickly. */
  impedance: number;
}

/**
 * Radians that a leaf nods when a drop strikes it midway: what the drop brings, `momentum` times half the length, over the
 * leaf's moment of inertia, a third of its mass times its length squared, is the speed at which it starts; that over its
 * angular frequency is how far it goes. Its area is half of the square of its length.
 *
 * @param brought newton seconds
 */
export function nod(brought: number, { length, impedance }: Leaf): number {
  const inertiaTimesRhythm = (impedance * (length ** 2 / 2) * length ** 2) / 3;
  return (brought * length) / 2 / inertiaTimesRhythm / (2 * Math.PI);
}

/** Leaves struck by drops, those of the air on top and drips from other leaves below: patches that nod and come to rest. */
export class Knocks {
  private readonly x: Float32Array;
  private readonly y: Float32Array;
  private readonly stalk: Float32Array;
  /** Radians that each nods at most, at the moment. */
  private readonly turn: Float32Array;
  private readonly half: number;
  private readonly leaf: Leaf;
  private readonly falling: Falling;
  /** Strikes in a second: of a leaf that nothing shelters, and of one deep under others, by drips. */
  private readonly open: number;
  private readonly dripping: number;
  /** Share of the drops of the air that reach each leaf. */
  private readonly reached: Float32Array;
  private readonly drip: number;
  private readonly rest: number;
  private readonly glint: number;
  private readonly patch: Float32Array;

  constructor(
    private readonly setup: Setup,
    private readonly dice: Random,
  ) {
    const { width, geometry, foliage, from, to } = setup;
    const focal = focalPixels(width, geometry.hfov);
    this.leaf = {
      length: figureOf(setup, 'leaf length'),
      impedance: figureOf(setup, 'leaf impedance'),
    };
    this.rest = figureOf(setup, 'leaf rest');
    this.glint = figureOf(setup, 'leaf glint');
    const perMetre = focal / geometry.foliage;
    this.half = Math.max(SMALLEST, (perMetre * this.leaf.length) / 2);
    const pixels = 2 * this.half ** 2;
    const level = (SHOWN * this.leaf.length ** 2) / 2;
    this.falling = new Falling(to.rain ?? 0, from.rain ?? 0);
    this.open = this.falling.strikes * level;
    const size = figureOf(setup, 'drip size');
    const drips = ((to.rain ?? 0) - (from.rain ?? 0)) / 3600 / (volumeOf(size) / 1e6);
    this.dripping = drips * level;
    this.drip = nod(momentum(size, Math.sqrt(2 * GRAVITY * DRIP_FALLS)), this.leaf);
    const shown = foliage.reduce((a, b) => a + b, 0) / 255;
    const places = placed(foliage, Math.round(shown / pixels), dice);
    const depth = depths(foliage, width);
    const shelter = figureOf(setup, 'leaf shelter') * perMetre;
    this.reached = Float32Array.from(places, (at) => Math.exp(-depth[at]! / shelter));
    this.x = Float32Array.from(places, (at) => (at % width) + dice());
    this.y = Float32Array.from(places, (at) => Math.floor(at / width) + dice());
    this.stalk = Float32Array.from(places, () => dice() * 2 * Math.PI);
    this.turn = new Float32Array(places.length);
    const side = 2 * Math.ceil(this.half) + 4;
    this.patch = new Float32Array(side * side);
  }

  /** @param hidden whether something in front hides a place */
  draw(picture: Float32Array, passed: number, hidden: (x: number, y: number) => boolean): void {
    const { turn, reached, dice, leaf } = this;
    const keep = Math.exp(-passed / this.rest);
    for (let n = 0; n < turn.length; n++) {
      let squares = (turn[n]! * keep) ** 2;
      // Nods add up at any phase, so their squares do, each as far as it has come to rest since its strike.
      for (let k = poisson(dice, this.open * reached[n]! * passed); k > 0; k--) {
        squares += (nod(this.momentumOfOne(), leaf) * this.left(passed)) ** 2;
      }
      for (let k = poisson(dice, this.dripping * (1 - reached[n]!) * passed); k > 0; k--) {
        squares += (this.drip * this.left(passed)) ** 2;
      }
      turn[n] = Math.min(MOST_TURN, Math.sqrt(squares));
      if (turn[n]! < STILL) continue;
      // Frames come at any moment of a nod.
      const angle = turn[n]! * Math.sin(2 * Math.PI * dice());
      if (Math.abs(angle) > STILL && !hidden(this.x[n]!, this.y[n]!)) this.drawTurned(picture, n, angle);
    }
  }

  /** Share that is left of a nod by a strike at any moment of the last `passed` seconds. */
  private left(passed: number): number {
    return Math.exp((-this.dice() * passed) / this.rest);
  }

  private momentumOfOne(): number {
    const diameter = this.falling.draw(this.dice);
    return momentum(diameter, fallSpeed(diameter));
  }

  /** Turns a disc of the picture about the leaf's stalk on its edge: wholly in the middle, not at all at the edge. */
  private drawTurned(picture: Float32Array, n: number, angle: number): void {
    const { half, patch } = this;
    const { width, height } = this.setup;
    const cx = this.x[n]!;
    const cy = this.y[n]!;
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
    const glint = this.glint * angle;
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
        const light = lightOf(upper + fy * (lower - upper));
        // What is as bright as the sky is no leaf.
        const turned = light * (1 + glint * weight * (1 - light));
        const step = Math.min(1, Math.max(0, turned)) * LIGHT_STEPS + 0.5;
        picture[(y0 + j) * width + x0 + i] = signalOfLight[step | 0]!;
      }
    }
  }
}

/** How much foliage stands above each pixel in the picture, in pixels. */
function depths(foliage: Uint8Array, width: number): Float32Array {
  const depth = new Float32Array(foliage.length);
  for (let at = width; at < foliage.length; at++) {
    depth[at] = depth[at - width]! + foliage[at - width]! / 255;
  }
  return depth;
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
