import { drawPlant, type Moment } from '../foliage.js';
import type { Garden } from '../garden.js';
import { canvas } from '../paint.js';
import { area, stamp } from './sprite.js';
import { type Animal, portray } from './visitors.js';

/** An animal counts as in view while at least this share of it can be seen. */
const share = 0.25;

/**
 * Finds the frames between which each animal is in view, by drawing it in white and what is nearer in black. It will be
 * drawn in those frames only, so that the labels hold exactly: no sliver of it shows outside them.
 */
export class Watch {
  readonly #garden: Garden;
  readonly #moment: (frame: number) => Moment;
  readonly #exposure: Float32Array;
  readonly #rate: number;
  readonly #canvas;

  constructor(garden: Garden, moment: (frame: number) => Moment, exposure: Float32Array, rate: number) {
    this.#garden = garden;
    this.#moment = moment;
    this.#exposure = exposure;
    this.#rate = rate;
    this.#canvas = canvas(garden.width, garden.height);
  }

  /** Sets first and last; last stays below first when it never comes into view. */
  time(a: Animal): void {
    const frames = this.#exposure.length;
    const from = Math.max(0, Math.floor(a.moves[0]!.start * this.#rate));
    const to = Math.min(frames - 1, Math.ceil(a.moves.at(-1)!.end * this.#rate));
    let first = from;
    while (first <= to && !this.#inView(a, first)) first++;
    let last = to;
    while (last > first && !this.#inView(a, last)) last--;
    a.first = first;
    a.last = first > to ? first - 1 : last;
  }

  /** x, y, width, height as fractions of the frame: all that an animal covers while it is in view. */
  box(animals: readonly Animal[]): [number, number, number, number] {
    const { width, height } = this.#garden;
    let x0 = width;
    let y0 = height;
    let x1 = 0;
    let y1 = 0;
    for (const a of animals) {
      for (let k = a.first; k <= a.last; k++) {
        const p = portray(a, k / this.#rate, this.#exposure[k]!, this.#garden);
        if (!p) continue;
        const s = p.sprite;
        for (let i = 0; i < s.width * s.height; i++) {
          if (s.rgba[i * 4 + 3]! < 0.1) continue;
          const x = s.left + (i % s.width);
          const y = s.top + Math.floor(i / s.width);
          if (x < 0 || y < 0 || x >= width || y >= height) continue;
          x0 = Math.min(x0, x);
          y0 = Math.min(y0, y);
          x1 = Math.max(x1, x + 1);
          y1 = Math.max(y1, y + 1);
        }
      }
    }
    return [x0 / width, y0 / height, (x1 - x0) / width, (y1 - y0) / height];
  }

  #inView(a: Animal, frame: number): boolean {
    const p = portray(a, frame / this.#rate, this.#exposure[frame]!, this.#garden);
    if (!p) return false;
    const c = this.#canvas;
    c.rgb.fill(0);
    stamp(c, p.sprite, this.#garden.depth, p.z, 1, true);
    const moment = this.#moment(frame);
    for (const plant of this.#garden.plants) if (plant.z < p.z) drawPlant(c, plant, moment, 0);
    let seen = 0;
    for (let i = 0; i < c.rgb.length; i += 3) seen += c.rgb[i]!;
    return seen >= share * area(p.sprite);
  }
}
