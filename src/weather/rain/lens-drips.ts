import { between, poisson, type Random } from '../../base/random.js';
import { figureOf } from '../assumptions.js';
import type { Setup } from '../setup.js';
import { volumeOf } from './drops.js';
import { drawStreak, focalPixels, type Streak } from './streaks.js';

/** Share of a bare housing's drips that fall before the lens where a rain cover leads the rest aside; assumed. */
const COVERED = 1 / 3;
/** Metres from the housing's edge down to what the lens sees; assumed. */
const EDGE_ABOVE = 0.05;
const GRAVITY = 9.81;

/**
 * Drips from the housing's edge, in view for an instant each: a frame shows one only if it comes by while the shutter is open.
 */
export class LensDrips {
  /** In view at any one moment. */
  readonly mean: number;
  private readonly speed = Math.sqrt(2 * GRAVITY * EDGE_ABOVE);
  private readonly size: number;
  private readonly distance: number;

  constructor(
    private readonly setup: Setup,
    private readonly dice: Random,
    exposure: number,
    private readonly streak: (x: number, z: number, diameter: number, speed: number) => Streak,
  ) {
    const { width, height, geometry, from, to } = setup;
    this.size = figureOf(setup, 'drip size');
    this.distance = figureOf(setup, 'lens drip distance');
    const roof = figureOf(setup, 'lens drips') * (geometry.cover ? COVERED : 1);
    const perSecond = (roof * ((to.rain ?? 0) - (from.rain ?? 0))) / 3600 / (volumeOf(this.size) / 1e6);
    const perMetre = focalPixels(width, geometry.hfov) / this.distance;
    const metres = height / perMetre + this.size / 1000;
    this.mean = perSecond * (metres / this.speed + exposure);
  }

  draw(picture: Float32Array): void {
    const { dice, setup } = this;
    const { width, height } = setup;
    for (let n = poisson(dice, this.mean); n > 0; n--) {
      const z = this.distance * between(dice, 0.6, 1.4);
      const streak = this.streak(dice() * width, z, this.size, this.speed);
      streak.y = dice() * (height + streak.long) - streak.long;
      drawStreak(picture, width, height, streak);
    }
  }
}
