import type { Breeze } from '../breeze.js';
import type { Canvas } from '../canvas.js';
import type { Dice } from '../dice.js';
import { Flap, type Flapping } from '../flap.js';
import { type Give, giveOf, Stem } from '../sway.js';
import type { View } from '../view.js';

/** What a plant grows from. */
export interface Soil {
  view: View;
  /** Metres from the camera. */
  away: number;
  /** Where it stands, pixels from the left. */
  x: number;
  breeze: Breeze;
  flapping: Flapping;
  /** How a leaf rings when struck. */
  rings: { hertz: number; lasts: number };
  /** Of its shape, the same every day; of its motion, the day's own. */
  build: Dice;
  day: Dice;
}

/** A leaf as rain finds it, pixels and square metres. */
export interface Target {
  x: number;
  y: number;
  area: number;
  flap: Flap;
}

export interface Plant {
  away: number;
  swing(time: number): void;
  draw(canvas: Canvas, time: number): void;
  /** What a person would outline: corners in pixels. */
  outline: [number, number][];
  /** Filled anew at every drawing. */
  targets: Target[];
}

/** What all kinds of plants share: a scale, stems and leaves. */
export abstract class Grown implements Plant {
  readonly targets: Target[] = [];
  abstract readonly outline: [number, number][];
  readonly away: number;
  /** Pixels a metre. */
  protected readonly scale: number;
  readonly #stems: Stem[] = [];
  readonly #give: Give;

  constructor(
    protected readonly soil: Soil,
    stiff: { stated: [number, number]; hertz: [number, number] },
  ) {
    this.away = soil.away;
    this.scale = soil.view.focal / soil.away;
    this.#give = giveOf(soil.build.of('give'), stiff);
  }

  /** @param x pixels; @param reach metres */
  protected stem(x: number, reach: number, joints: number): Stem {
    const { view, breeze, build, day } = this.soil;
    const name = `stem ${this.#stems.length}`;
    const metres = (x - view.width / 2) / this.scale;
    const stem = new Stem(breeze, this.#give, metres, reach, joints, build.of(name), day.of(name));
    this.#stems.push(stem);
    return stem;
  }

  protected flap(): Flap {
    return new Flap(this.soil.flapping, this.soil.build);
  }

  swing(time: number): void {
    for (const stem of this.#stems) stem.swing(time);
    this.targets.length = 0;
  }

  abstract draw(canvas: Canvas, time: number): void;

  /** Draws a leaf whose place is known, and shows it to the rain. */
  protected leaf(
    canvas: Canvas,
    time: number,
    leaf: { flap: Flap; long: number; wide: number; light: number },
    x: number,
    y: number,
    angle: number,
    wind: number,
  ): void {
    const turn = leaf.flap.at(time, wind, this.soil.rings);
    const [long, wide] = [leaf.long * this.scale, leaf.wide * this.scale];
    canvas.leaf(
      x,
      y,
      angle + turn,
      long,
      wide * (0.6 + 0.4 * Math.cos(2 * turn)),
      leaf.light * leaf.flap.shine(turn),
    );
    this.targets.push({ x, y, area: leaf.long * leaf.wide * 0.6, flap: leaf.flap });
  }
}
