import { between, poisson, quickRandom, type Random } from '../base/random.js';
import { WetCover } from './cover.js';
import { drawDiameter, dropsAbove, fallSpeed, SMALLEST, slope } from './drops.js';
import { lightOfSignal, SIGNAL_STEPS, signalOf } from './gamma.js';
import { Knocks } from './knocks.js';
import { lazily } from './lazily.js';
import { OVERCAST_DAYLIGHT } from './light.js';
import { exposureAt, F_NUMBER } from './sensor.js';
import type { Assumed, Effect, Setup } from './setup.js';
import { Splashes } from './splashes.js';
import { coverage, drawStreak, focalPixels, type Streak, streakLength, streakWidth } from './streaks.js';

/** Share of the light that heavy rain scatters into a grey veil, and the mm/h by which two thirds of it are there; assumed. */
export const VEIL = 0.16;
export const VEIL_RAIN = 8;
/** Linear light of the veil; assumed. */
export const VEIL_LIGHT = 0.35;
/** Wet things are this much darker; assumed. */
export const WET = 0.85;
/** Metres: nearer drops are caught by the housing, farther ones are too faint. */
const NEAREST = 0.25;
const FARTHEST = 3;
/** Share of drop light below which a streak is not seen. */
const FAINT = 0.004;
/** Length of the lens, metres: with the f-number it gives the blur of what is near; of a small sensor, assumed. */
export const LENS_LENGTH = 0.0036;
/** Drips a second for each mm/h, from what is above the lens and, with a cover, from its roof; no more from that rain on. Assumed. */
export const DRIPS_BARE = 0.1;
export const DRIPS_COVERED = 0.03;
export const DRIPS_MOST_RAIN = 4;
/** Share of the light behind that a drip before the lens takes; assumed. */
export const DRIP_SHARE = 0.2;
/** Share of the rain on foliage that falls from twigs again in large drops; assumed. */
export const DRIP_THROUGH = 0.1;
/** Millimetres: drops that gather before they fall. */
const GATHERED = 5;
/** Seconds for which a drip from a twig falls in view; metres by which one from above the lens has fallen. */
const DRIP_AIRBORNE = 0.3;
const DRIP_FALL = 0.2;
/** Metres before the lens. */
const DRIP_NEAREST = 0.04;
const DRIP_FARTHEST = 0.11;
const GRAVITY = 9.81;

/**
 * Rain where there was none or less. Drops of the air, of twigs and of what is above the lens; leaves and ground that drops
 * strike; a wet cover; less contrast.
 */
export function createRain(setup: Setup): { effect: Effect | null; assumed: Assumed[] } {
  const { from, to, geometry } = setup;
  if (to.rain === undefined || to.rain <= (from.rain ?? 0)) return { effect: null, assumed: [] };
  const assumed = [
    'how far and how long a leaf turns when a drop strikes it, and the share of drops that do it',
    'how bright, large and lasting splashes on the ground are, and that the camera looks level',
    'how often water drips past the lens and from twigs',
    'how bright the sky is that drops show, and how much darker and hazier rain makes the scene',
    `the lens is f/${F_NUMBER}`,
  ];
  if (geometry.cover)
    assumed.push('how many drops reach the rain cover, how long they sit there, and its blur');
  if (from.rain === undefined) assumed.push('the clip was recorded in dry weather');
  if ((to.light ?? from.light) === undefined) {
    assumed.push(`the light is ${OVERCAST_DAYLIGHT} lux, full daylight of an overcast sky, for streaks`);
  }
  return { effect: lazily(() => new Rain(setup)), assumed };
}

class Rain implements Effect {
  private readonly dice: Random;
  private readonly focal: number;
  private readonly exposure: number;
  private readonly knocks: Knocks;
  private readonly splashes: Splashes;
  private readonly cover: WetCover | null;
  /** Signal behind the veil at recorded signal * SIGNAL_STEPS + 0.5: of leaves, which shine when wet, and of what darkens. */
  private readonly leaves: Float32Array;
  private readonly others: Float32Array;
  private readonly drops: number;
  /** Of the drops' sizes, per mm. */
  private readonly slope: number;
  private readonly lensDrips: number;
  private readonly twigDrips: number;
  private last: number;

  constructor(private readonly setup: Setup) {
    const { width, height, seed, geometry, from, to, optics, rate } = setup;
    const rain = to.rain ?? 0;
    const was = from.rain ?? 0;
    this.dice = quickRandom(seed, 'rain');
    this.focal = focalPixels(width, geometry.hfov);
    this.exposure = exposureAt(to.light ?? from.light ?? OVERCAST_DAYLIGHT, optics, rate).seconds;
    this.knocks = new Knocks(setup, quickRandom(seed, 'knocks'));
    this.splashes = new Splashes(setup, quickRandom(seed, 'splashes'));
    this.cover = geometry.cover ? new WetCover(setup, quickRandom(seed, 'cover')) : null;
    const veil = VEIL * (Math.exp(-was / VEIL_RAIN) - Math.exp(-rain / VEIL_RAIN));
    const behindVeil = (dark: number) =>
      lightOfSignal.map(
        (light) =>
          // The sky does not get wet.
          255 * signalOf(light * (dark + (1 - dark) * light) * (1 - veil) + VEIL_LIGHT * veil),
      );
    this.leaves = behindVeil(1);
    this.others = behindVeil(was > 0 ? 1 : WET);
    const squareMetres = (width * height) / this.focal ** 2;
    const seen = (squareMetres * (FARTHEST ** 3 - NEAREST ** 3)) / 3;
    this.slope = slope(rain);
    this.drops = seen * (dropsAbove(SMALLEST, rain) - dropsAbove(SMALLEST, was));
    const dripping = Math.min(DRIPS_MOST_RAIN, rain) - Math.min(DRIPS_MOST_RAIN, was);
    this.lensDrips = (geometry.cover ? DRIPS_COVERED : DRIPS_BARE) * dripping;
    // Of the whole picture as if it were foliage: drips that start elsewhere are left out one by one.
    const litres = ((rain - was) * squareMetres * geometry.foliage ** 2) / 3600;
    this.twigDrips = (DRIP_THROUGH * litres * 1e6) / ((Math.PI / 6) * GATHERED ** 3);
    this.last = -1 / rate;
  }

  apply(picture: Float32Array, time: number): void {
    const passed = time - this.last;
    this.last = time;
    const { leaves, others, setup } = this;
    const { foliage } = setup;
    const fine = SIGNAL_STEPS;
    for (let i = 0; i < picture.length; i++) {
      const step = (Math.min(255, Math.max(0, picture[i]!)) * fine + 0.5) | 0;
      picture[i] = foliage[i]! > 127 ? leaves[step]! : others[step]!;
    }
    const boxes = setup.inFront
      .filter((b) => b.start <= time && time <= b.end)
      .flatMap(({ box }) => (box ? [box] : []));
    this.knocks.draw(picture, passed, (x, y) =>
      boxes.some(
        ([left, top, wide, tall]) =>
          x >= left * setup.width &&
          x <= (left + wide) * setup.width &&
          y >= top * setup.height &&
          y <= (top + tall) * setup.height,
      ),
    );
    this.splashes.draw(picture);
    this.drawDrops(picture);
    this.drawTwigDrips(picture);
    this.drawLensDrip(picture, passed);
    this.cover?.draw(picture, time, passed);
  }

  /** Drops of the air at their terminal speed. */
  private drawDrops(picture: Float32Array): void {
    const { dice, setup } = this;
    const { width, height } = setup;
    for (let n = poisson(dice, this.drops); n > 0; n--) {
      const z = Math.cbrt(NEAREST ** 3 + dice() * (FARTHEST ** 3 - NEAREST ** 3));
      const diameter = drawDiameter(this.slope, dice);
      const [x, y] = [dice(), dice()];
      const streak = this.streak(x * width, 0, z, diameter, fallSpeed(diameter));
      streak.y = y * (height + streak.long) - streak.long;
      if (streak.share * Math.min(1, streak.wide) > FAINT) drawStreak(picture, width, height, streak);
    }
  }

  /** Large drops that let go of foliage up to a third of a second ago. */
  private drawTwigDrips(picture: Float32Array): void {
    const { dice, setup, focal } = this;
    const { width, height, geometry, foliage } = setup;
    for (let n = poisson(dice, this.twigDrips * DRIP_AIRBORNE); n > 0; n--) {
      const x = dice() * width;
      const start = dice() * height;
      const fallen = dice() * DRIP_AIRBORNE;
      if (foliage[Math.floor(start) * width + Math.floor(x)]! < 128) continue;
      const y = start + (focal * GRAVITY * fallen ** 2) / 2 / geometry.foliage;
      const speed = Math.max(0.1, GRAVITY * fallen);
      drawStreak(picture, width, height, this.streak(x, y, geometry.foliage, GATHERED, speed));
    }
  }

  /** Water that gathers above the lens and falls past it, far out of focus. */
  private drawLensDrip(picture: Float32Array, passed: number): void {
    const { dice, setup } = this;
    const { width, height } = setup;
    if (dice() >= 1 - Math.exp(-this.lensDrips * passed)) return;
    const streak = this.streak(
      dice() * width,
      0,
      between(dice, DRIP_NEAREST, DRIP_FARTHEST),
      GATHERED,
      Math.sqrt(2 * GRAVITY * DRIP_FALL),
    );
    streak.y = dice() * height - streak.long / 2;
    drawStreak(picture, width, height, { ...streak, share: DRIP_SHARE * between(dice, 0.5, 1.5) });
  }

  private streak(x: number, y: number, z: number, diameter: number, speed: number): Streak {
    const { focal, exposure, setup } = this;
    // Circle of confusion of a thin lens focused on the subject.
    const soft = ((LENS_LENGTH / F_NUMBER) * focal * Math.abs(1 / z - 1 / setup.geometry.subject)) / 2;
    const sharp = streakWidth(focal, diameter, z);
    return {
      x,
      y,
      long: Math.max(sharp, streakLength(focal, speed, exposure, z)),
      wide: sharp,
      slant: 0,
      share: coverage(diameter, speed, exposure),
      soft,
    };
  }
}
