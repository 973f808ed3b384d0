import { poisson, quickRandom, type Random } from '../../base/random.js';
import { assumptionOf, figureOf, times } from '../assumptions.js';
import { lightOfSignal, SIGNAL_STEPS, signalOf } from '../gamma.js';
import { lazily } from '../lazily.js';
import { lensText, OVERCAST_DAYLIGHT } from '../light/light.js';
import { exposureAt } from '../sensor/sensor.js';
import type { Assumed, Effect, Geometry, Setup } from '../setup.js';
import { WetCover } from './cover.js';
import { Falling, fallSpeed, Hanging, opticalDepth, SMALLEST, volumeOf } from './drops.js';
import { Knocks } from './knocks.js';
import { LensDrips } from './lens-drips.js';
import { falls } from './rain-part.js';
import { spansOf } from './spans.js';
import { Splashes } from './splashes.js';
import { coverage, drawStreak, focalPixels, type Streak, streakLength, streakWidth } from './streaks.js';

/** Metres: nearer drops are large and blurred; farther than the last they are too faint. */
const NEAR = 0.25;
const FARTHEST = 3;
/** Share of drop light below which a streak is not seen. */
const FAINT = 0.004;
/** Length of the lens, metres (board maker's documentation): with the f-number it gives the blur of what is near. */
const LENS_LENGTH = 0.0036;
/** Seconds for which a drip from a twig falls in view. */
const DRIP_AIRBORNE = 0.3;
const GRAVITY = 9.81;
/** Kinds of pixels behind the rain. */
const LEAVES = 0;
const DARKENING = 1;

/**
 * Rain where there was none or less. Drops of the air, of leaves and of the housing; leaves and ground that drops strike; a wet
 * cover; wet things, darker, in haze.
 */
export function createRain(setup: Setup): { effect: Effect | null; assumed: Assumed[] } {
  const { from, to, geometry } = setup;
  if (to.rain === undefined || to.rain <= (from.rain ?? 0)) return { effect: null, assumed: [] };
  const assumed = [
    'how large, heavy and quick to nod leaves are that drops strike, and how much they brighten; that foliage ends where the picture does',
    'how bright, large and lasting splashes on the ground are, and that the camera looks level',
    'how often water drips past the lens and from leaves',
    'how bright drops are, and how much darker wet things',
    lensText(setup),
  ];
  if (geometry.cover) assumed.push('how many drops reach the rain cover, how they run there, and its blur');
  if (from.rain === undefined) assumed.push('the clip was recorded in dry weather');
  if ((to.light ?? from.light) === undefined) {
    assumed.push(`the light is ${OVERCAST_DAYLIGHT} lux, full daylight of an overcast sky, for streaks`);
  }
  return { effect: lazily(() => new Rain({ ...setup, geometry: doubtedGeometry(setup) })), assumed };
}

/** Lens and distances, as far as they are doubted. */
function doubtedGeometry(setup: Setup): Geometry {
  const { geometry } = setup;
  const { most: widest = 180 } = assumptionOf('field of view');
  return {
    ...geometry,
    hfov: Math.min(Math.max(widest, geometry.hfov), geometry.hfov * times(setup, 'field of view')),
    subject: geometry.subject * times(setup, 'subject distance'),
    foliage: geometry.foliage * times(setup, 'foliage distance'),
    height: geometry.height * times(setup, 'camera height'),
  };
}

/** Drops of the air between two distances, metres, in one frame. */
interface Slice {
  from: number;
  to: number;
  /** In view when the shutter opens, and falling into view before it closes. */
  inView: number;
  fallingIn: number;
}

/** Drops of the air with how far each size is seen, metres squared and cubed. */
interface Drawn {
  sizes: Hanging | Falling;
  squared: Float64Array;
  cubed: Float64Array;
}

class Rain implements Effect {
  private readonly dice: Record<'near' | 'far' | 'twigs', Random>;
  private readonly focal: number;
  private readonly exposure: number;
  private readonly dropLight: number;
  private readonly knocks: Knocks | null;
  private readonly splashes: Splashes | null;
  private readonly lensDrips: LensDrips | null;
  private readonly cover: WetCover | null;
  /** Signal behind the haze at recorded signal * SIGNAL_STEPS + 0.5: of leaves, which shine when wet, then of what darkens. */
  private readonly behind: Float32Array;
  /** The same at whole recorded signals, each of the two. */
  private readonly behindWhole: Float32Array[];
  /** Where there are leaves (0), and where it darkens (1). */
  private readonly kinds: Uint32Array;
  private readonly near: Slice | null;
  private readonly far: Slice | null;
  /** Drops in the air, and those that fall into view. */
  private readonly hanging: Drawn;
  private readonly falling: Drawn;
  /** Let go in a second. */
  private readonly twigDrips: number;
  private readonly dripSize: number;
  private readonly aperture: number;
  private last: number;

  constructor(private readonly setup: Setup) {
    const { width, height, seed, geometry, from, to, optics, rate } = setup;
    const rain = to.rain ?? 0;
    const was = from.rain ?? 0;
    // Dice of its own for each part, so that the others fall the same without it.
    const dice = (purpose: string) => quickRandom(seed, `rain/${purpose}`);
    this.dice = { near: dice('near'), far: dice('far'), twigs: dice('twigs') };
    this.focal = focalPixels(width, geometry.hfov);
    const light = Math.min(figureOf(setup, 'rain light'), to.light ?? from.light ?? OVERCAST_DAYLIGHT);
    this.aperture = figureOf(setup, 'aperture');
    this.exposure = exposureAt(light, optics, rate, this.aperture).seconds;
    this.dropLight = figureOf(setup, 'drop light');
    const streak = (x: number, z: number, diameter: number, speed: number) =>
      this.streak(x, 0, z, diameter, speed);
    this.knocks = falls('struck leaves', setup) ? new Knocks(setup, dice('knocks')) : null;
    this.splashes = falls('splashes', setup) ? new Splashes(setup, dice('splashes'), this.exposure) : null;
    this.lensDrips = falls('drips at the lens', setup)
      ? new LensDrips(setup, dice('lens'), this.exposure, streak)
      : null;
    this.cover =
      geometry.cover && falls('drops on the cover', setup)
        ? new WetCover(setup, dice('cover'), (distance) => this.softAt(distance))
        : null;
    // Nearer drops are caught by the housing.
    const nearest = Math.min(NEAR, figureOf(setup, 'housing roof'));
    const veil = opticalDepth(rain, was, (diameter) =>
      Math.max(0, geometry.foliage - Math.max(nearest, this.drawnTo(diameter))),
    );
    const haze = falls('haze', setup) ? 1 - Math.exp(-veil) : 0;
    const behind = (dark: number) =>
      lightOfSignal.map(
        (of) =>
          // The sky does not get wet.
          255 * signalOf(of * (dark + (1 - dark) * of) * (1 - haze) + this.dropLight * haze),
      );
    const wet = was > 0 || !falls('wetness', setup) ? 1 : 1 - figureOf(setup, 'wetness');
    this.behind = Float32Array.of(...behind(1), ...behind(wet));
    this.behindWhole = [LEAVES, DARKENING].map((kind) =>
      Float32Array.from(
        { length: 256 },
        (_, y) => this.behind[kind * lightOfSignal.length + y * SIGNAL_STEPS]!,
      ),
    );
    this.kinds = spansOf(setup.foliage, (leaf) => (leaf > 127 ? LEAVES : DARKENING));
    const squareMetres = (width * height) / this.focal ** 2;
    this.hanging = this.drawn(new Hanging(rain, was));
    this.falling = this.drawn(new Falling(rain, was));
    // What is in view at one moment fills a pyramid of air; what falls into it while the shutter is open comes in at its top,
    // which grows with the distance.
    const wide = width / this.focal;
    const slice = (from: number, to: number): Slice => ({
      from,
      to,
      inView: (this.hanging.sizes.sum * squareMetres * (to ** 3 - from ** 3)) / 3,
      fallingIn: (this.falling.sizes.sum * this.exposure * wide * (to ** 2 - from ** 2)) / 2,
    });
    this.near = falls('near drops', setup) ? slice(nearest, NEAR) : null;
    this.far = falls('far drops', setup) ? slice(NEAR, FARTHEST) : null;
    this.dripSize = figureOf(setup, 'drip size');
    // Of the whole picture as if it were foliage: drips that start elsewhere are left out one by one.
    const litres = ((rain - was) * squareMetres * geometry.foliage ** 2) / 3600;
    this.twigDrips = falls('drips from leaves', setup)
      ? (figureOf(setup, 'twig drips') * litres * 1e6) / volumeOf(this.dripSize)
      : 0;
    this.last = -1 / rate;
  }

  apply(picture: Float32Array, time: number, recorded?: Uint8Array): void {
    const passed = time - this.last;
    this.last = time;
    const { setup } = this;
    if (recorded) this.showWhole(recorded, picture);
    else this.show(picture);
    const boxes = setup.inFront
      .filter((b) => b.start <= time && time <= b.end)
      .flatMap(({ box }) => (box ? [box] : []));
    this.knocks?.draw(picture, passed, (x, y) =>
      boxes.some(
        ([left, top, wide, tall]) =>
          x >= left * setup.width &&
          x <= (left + wide) * setup.width &&
          y >= top * setup.height &&
          y <= (top + tall) * setup.height,
      ),
    );
    this.splashes?.draw(picture);
    if (this.far) this.drawDrops(picture, this.far, this.dice.far);
    this.drawTwigDrips(picture);
    if (this.near) this.drawDrops(picture, this.near, this.dice.near);
    this.lensDrips?.draw(picture);
    this.cover?.draw(picture, time, passed);
  }

  /** What is behind the rain. */
  private show(picture: Float32Array): void {
    const { behind, kinds } = this;
    const fine = SIGNAL_STEPS;
    const top = 255 * fine;
    for (let n = 0; n < kinds.length; n += 3) {
      const [end, from] = [kinds[n + 1]!, kinds[n + 2]! * lightOfSignal.length];
      for (let i = kinds[n]!; i < end; i++) {
        const step = picture[i]! * fine + 0.5;
        picture[i] = behind[from + (step <= 0 ? 0 : step >= top ? top : step | 0)]!;
      }
    }
  }

  /** The same of whole grey levels, four at a time: there is so little to do for each that going round takes half of it. */
  private showWhole(recorded: Uint8Array, picture: Float32Array): void {
    const { behindWhole, kinds } = this;
    for (let n = 0; n < kinds.length; n += 3) {
      const [end, table] = [kinds[n + 1]!, behindWhole[kinds[n + 2]!]!];
      let i = kinds[n]!;
      for (; i + 3 < end; i += 4) {
        picture[i] = table[recorded[i]!]!;
        picture[i + 1] = table[recorded[i + 1]!]!;
        picture[i + 2] = table[recorded[i + 2]!]!;
        picture[i + 3] = table[recorded[i + 3]!]!;
      }
      for (; i < end; i++) picture[i] = table[recorded[i]!]!;
    }
  }

  private drawn(sizes: Hanging | Falling): Drawn {
    const to = sizes.each((diameter) => this.drawnTo(diameter));
    return { sizes, squared: to.map((z) => z ** 2), cubed: to.map((z) => z ** 3) };
  }

  /** Drops of the air at their terminal speed, all that are in view at any moment of the exposure. */
  private drawDrops(picture: Float32Array, { from, to, inView, fallingIn }: Slice, dice: Random): void {
    const { width, height } = this.setup;
    const all = inView + fallingIn;
    const [nearSquared, nearCubed] = [from ** 2, from ** 3];
    const [squares, cubes] = [to ** 2 - nearSquared, to ** 3 - nearCubed];
    for (let n = poisson(dice, all); n > 0; n--) {
      const isFirst = dice() * all < inView;
      const place = dice();
      const { sizes, squared, cubed } = isFirst ? this.hanging : this.falling;
      const size = sizes.pick(dice);
      const x = dice();
      const y = dice();
      const power = isFirst ? nearCubed + place * cubes : nearSquared + place * squares;
      // Most are too far off for their size to be seen.
      if (power >= (isFirst ? cubed : squared)[size]!) continue;
      const z = isFirst ? Math.cbrt(power) : Math.sqrt(power);
      const diameter = sizes.diameter(size);
      const streak = this.streak(x * width, 0, z, diameter, fallSpeed(diameter));
      streak.y = y * (height + streak.long) - streak.long;
      drawStreak(picture, width, height, streak);
    }
  }

  /** Large drops that let go of foliage up to a third of a second ago. */
  private drawTwigDrips(picture: Float32Array): void {
    const { setup, focal, dripSize } = this;
    const dice = this.dice.twigs;
    const { width, height, geometry, foliage } = setup;
    const during = DRIP_AIRBORNE + this.exposure;
    for (let n = poisson(dice, this.twigDrips * during); n > 0; n--) {
      const x = dice() * width;
      const start = dice() * height;
      // When the shutter opens; some let go later.
      const fallen = Math.max(0, dice() * during - this.exposure);
      if (foliage[Math.floor(start) * width + Math.floor(x)]! < 128) continue;
      const y = start + (focal * GRAVITY * fallen ** 2) / 2 / geometry.foliage;
      const speed = Math.max(0.1, GRAVITY * fallen);
      drawStreak(picture, width, height, this.streak(x, y, geometry.foliage, dripSize, speed));
    }
  }

  /** Metres up to which drops of a diameter (mm) are drawn one by one; beyond they are part of the haze. */
  private drawnTo(diameter: number): number {
    if (diameter < SMALLEST) return 0;
    const share = coverage(diameter, fallSpeed(diameter), this.exposure);
    if (share <= FAINT) return 0;
    // From where their width in pixels, times that share, is too faint.
    return Math.min(FARTHEST, (streakWidth(this.focal, diameter, 1) * share) / FAINT);
  }

  private streak(x: number, y: number, z: number, diameter: number, speed: number): Streak {
    const { focal, exposure } = this;
    const sharp = streakWidth(focal, diameter, z);
    return {
      x,
      y,
      long: Math.max(sharp, streakLength(focal, speed, exposure, z)),
      wide: sharp,
      share: coverage(diameter, speed, exposure),
      soft: this.softAt(z),
      light: this.dropLight,
    };
  }

  /** Radius of the circle of confusion of a thin lens focused on the subject, pixels. */
  private softAt(z: number): number {
    return (
      ((LENS_LENGTH / this.aperture) * this.focal * Math.abs(1 / z - 1 / this.setup.geometry.subject)) / 2
    );
  }
}
