import { mix, random, seedOf } from '../base/random.js';
import { stamp } from './animals/sprite.js';
import { type Animal, portray, type Visitors } from './animals/visitors.js';
import { drawPlant, type Moment } from './foliage.js';
import type { Garden } from './garden.js';
import { drawInsects, type Insect } from './insects.js';
import type { Light } from './light.js';
import { Sensor } from './noise.js';
import { type Canvas, canvas } from './paint.js';
import { drawPerson, type Person } from './people.js';
import type { Rain } from './rain.js';
import { type Passing, Shade } from './shade.js';
import { moved, type Shake, shakenBy } from './shakes.js';
import { drawWater } from './water.js';
import { type Gusts, windAt } from './wind.js';

/** Everything that a frame is made of, laid out over the whole clip. */
export interface PictureParts {
  garden: Garden;
  rate: number;
  frames: number;
  gusts: Gusts;
  /** Deflection of every oscillator of the garden, frame by frame. */
  sway: Float32Array;
  light: Light;
  rain: Rain;
  shadows: readonly Passing[];
  insects: readonly Insect[];
  shakes: readonly Shake[];
  people: readonly Person[];
  visitors: readonly Visitors[];
  /** Seeds. */
  weather: string;
  place: string;
}

/** Linear light that white in full light gives, of a full well: the exposure saves most of the sky. */
const exposed = 1.3;
/** How much darker wet things are. */
const wet = 0.8;

/** Draws any frame of a scene, in any order. */
export class Picture {
  readonly parts: PictureParts;
  readonly #canvas: Canvas;
  readonly #shade: Shade;
  readonly #sensor: Sensor;
  readonly #noise: number;
  readonly #still: Float32Array;
  readonly #animals: Animal[];
  readonly #moved: Float32Array;
  readonly #rgb: Uint8Array;
  readonly #grey: Uint8Array;

  constructor(parts: PictureParts) {
    const { garden, rain } = parts;
    this.parts = parts;
    this.#canvas = canvas(garden.width, garden.height);
    this.#shade = new Shade(garden, parts.shadows, random(parts.place, 'shade'));
    this.#sensor = new Sensor(random(parts.weather, 'deviates'));
    this.#noise = seedOf(parts.weather, 'noise');
    this.#still = rain.rate > 0 ? garden.still.map((v) => v * wet) : garden.still;
    this.#animals = parts.visitors.flatMap((v) => v.animals);
    this.#moved = new Float32Array(garden.width * garden.height * 3);
    this.#rgb = new Uint8Array(garden.width * garden.height * 3);
    this.#grey = new Uint8Array(garden.width * garden.height);
  }

  /** What moves the plants in a frame. */
  moment(frame: number): Moment {
    const { rate, sway, garden, gusts, light, rain } = this.parts;
    const time = frame / rate;
    return {
      frame,
      time,
      sway,
      row: frame * garden.oscillators.length,
      wind: windAt(gusts, time),
      sun: light.sun[frame]!,
      struck: rain.knocks(1 / rate),
      focal: garden.lens.focal,
    };
  }

  /** Frame as RGB or, with `grey`, luminance bytes; the buffer is used again for the next. */
  frame(k: number, grey: boolean): Uint8Array {
    const { garden, light, rain, gusts, shakes } = this.parts;
    const moment = this.moment(k);
    const c = this.#canvas;
    this.#shade.set(moment.sway, moment.row, moment.time, moment.sun);
    this.#shade.light(this.#still, c.rgb);
    if (garden.water) drawWater(c, garden.water, moment, rain.rings(moment.time, garden.water.radius));
    if (rain.rate > 0) rain.drawSplashes(c, k);
    this.#drawStanding(k, moment);
    for (const p of this.parts.people) drawPerson(c, p, moment.time, 0.8);
    if (rain.rate > 0) rain.drawStreaks(c, k, light.exposure[k]!, gusts.mean);
    drawInsects(c, this.parts.insects, k);
    const off = shakenBy(shakes, moment.time);
    const seen =
      off.x === 0 && off.y === 0 ? c.rgb : moved(c.rgb, garden.width, garden.height, off, this.#moved);
    const out = grey ? this.#grey : this.#rgb;
    const seed = mix(this.#noise, k, 3);
    this.#sensor.read(seen, light.level[k]! * exposed, rain.veil, light.gain[k]!, seed, out, grey);
    return out;
  }

  /** Plants and animals together, from far to near. */
  #drawStanding(k: number, moment: Moment): void {
    const { garden, rate, light } = this.parts;
    const here = this.#animals
      .filter((a) => k >= a.first && k <= a.last)
      .map((a) => portray(a, k / rate, light.exposure[k]!, garden))
      .filter((p) => p !== undefined)
      .sort((a, b) => b.z - a.z);
    let next = 0;
    const drawUpTo = (z: number) => {
      for (; next < here.length && here[next]!.z >= z; next++) {
        const p = here[next]!;
        if (p.onGround) this.#groundShade(p.x, p.y, p.size, p.z);
        stamp(this.#canvas, p.sprite, garden.depth, p.z, this.#shade.at(p.x, p.y));
      }
    };
    for (const plant of garden.plants) {
      drawUpTo(plant.z);
      drawPlant(this.#canvas, plant, moment);
    }
    drawUpTo(0);
  }

  /** The dark patch under an animal on the ground. */
  #groundShade(x: number, y: number, size: number, z: number): void {
    const { width, height, rgb } = this.#canvas;
    const wide = 0.45 * size;
    const tall = 0.12 * size + 0.5;
    for (let py = Math.max(0, Math.ceil(y - tall)); py < Math.min(height, y + tall); py++) {
      for (let px = Math.max(0, Math.ceil(x - wide)); px < Math.min(width, x + wide); px++) {
        const q = 1 - ((px - x) / wide) ** 2 - ((py - y) / tall) ** 2;
        if (q <= 0 || this.parts.garden.depth[py * width + px]! < z) continue;
        const i = (py * width + px) * 3;
        const keep = 1 - 0.5 * q;
        rgb[i] = rgb[i]! * keep;
        rgb[i + 1] = rgb[i + 1]! * keep;
        rgb[i + 2] = rgb[i + 2]! * keep;
      }
    }
  }
}
