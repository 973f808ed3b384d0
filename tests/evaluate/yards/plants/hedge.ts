import type { Canvas } from '../canvas.js';
import type { Flap } from '../flap.js';
import type { Stem } from '../sway.js';
import { groundRow } from '../view.js';
import { Grown, type Soil } from './plant.js';

/** A dense hedge: sprays of small leaves on short stiff stems, before its own dark. */
export class Hedge extends Grown {
  readonly outline: [number, number][];
  readonly #dark: number;
  readonly #sprays: {
    stem: Stem;
    x: number;
    y: number;
    up: number;
    leaves: {
      ox: number;
      oy: number;
      angle: number;
      flap: Flap;
      long: number;
      wide: number;
      light: number;
    }[];
  }[];

  constructor(soil: Soil) {
    super(soil, { stated: [0.04, 0.3], hertz: [1.2, 4.5] });
    const { build, x, view, away } = soil;
    const across = build.within(0.7, 1.8) * this.scale;
    const foot = groundRow(view, away);
    const tall = build.within(0.5, 1.2) * this.scale;
    const long = build.within(0.025, 0.06);
    const light = build.within(0.05, 0.16);
    this.#dark = light * build.within(0.15, 0.5);
    this.#sprays = Array.from({ length: build.whole(60, 110) }, () => {
      const at = x + build.within(-0.5, 0.5) * across;
      const reach = build.within(0.1, 0.3);
      return {
        stem: this.stem(at, reach, 1),
        x: at,
        y: foot - build.within(0, 1) * tall,
        up: reach * this.scale,
        leaves: Array.from({ length: build.whole(8, 15) }, () => ({
          ox: build.bell() * 0.09 * this.scale,
          oy: -build.within(0, 1) * reach * this.scale,
          angle: build.within(0, 2 * Math.PI),
          flap: this.flap(),
          long: long * build.ratio(0.6, 1.5),
          wide: long * build.within(0.35, 0.8),
          light: light * build.ratio(0.4, 2.4),
        })),
      };
    });
    this.outline = [
      [x - across / 2 - 4, foot - tall - 0.25 * this.scale],
      [x + across / 2 + 4, foot - tall - 0.25 * this.scale],
      [x + across / 2 + 4, foot],
      [x - across / 2 - 4, foot],
    ];
  }

  draw(canvas: Canvas, time: number): void {
    for (const { x, y, up } of this.#sprays) {
      canvas.blob(x, y - up / 2, 0.5 * up, 0.07 * this.scale, x + y, this.#dark, 0.85);
    }
    for (const { stem, x, y, up, leaves } of this.#sprays) {
      const { wind } = stem;
      const tip = Math.sin(stem.turned[0]!) * up;
      for (const leaf of leaves) {
        const share = -leaf.oy / up;
        this.leaf(
          canvas,
          time,
          leaf,
          x + leaf.ox + tip * share,
          y + leaf.oy + 0.2 * Math.abs(tip) * share,
          leaf.angle + stem.turned[0]! * share,
          wind,
        );
      }
    }
  }
}
