import type { Canvas } from '../canvas.js';
import type { Flap } from '../flap.js';
import type { Stem } from '../sway.js';
import { groundRow } from '../view.js';
import { Grown, type Soil } from './plant.js';

const PIECES = 7;

/** Bramble: canes that arch from root to a far tip, leaves in threes. */
export class Bramble extends Grown {
  readonly outline: [number, number][];
  readonly #canes: {
    stem: Stem;
    x: number;
    span: number;
    rise: number;
    bark: number;
    leaves: { on: number; angle: number; flap: Flap; long: number; wide: number; light: number }[];
  }[];
  readonly #foot: number;

  constructor(soil: Soil) {
    super(soil, { stated: [0.06, 0.35], hertz: [0.8, 2.5] });
    const { build, x, view, away } = soil;
    this.#foot = groundRow(view, away);
    const across = build.within(0.4, 0.9) * this.scale;
    const long = build.within(0.04, 0.08);
    const light = build.within(0.06, 0.18);
    this.#canes = Array.from({ length: build.whole(8, 16) }, () => {
      const at = x + build.within(-0.5, 0.5) * across;
      const rise = build.within(0.3, 0.8);
      return {
        stem: this.stem(at, rise, 1),
        x: at,
        span: build.within(0.3, 1.1) * this.scale * (build.happens(0.5) ? 1 : -1),
        rise: rise * this.scale,
        bark: build.within(0.04, 0.09),
        leaves: Array.from({ length: 3 * build.whole(6, 11) }, (_, i) => ({
          on: (Math.floor(i / 3) + 1) / 12,
          angle: build.within(-0.3, 0.3) + ((i % 3) - 1) * 1.1,
          flap: this.flap(),
          long: long * build.ratio(0.7, 1.3),
          wide: long * build.within(0.5, 0.8),
          light: light * build.ratio(0.5, 2),
        })),
      };
    });
    const ends = this.#canes.flatMap((c) => [c.x, c.x + c.span]);
    const top = this.#foot - Math.max(...this.#canes.map((c) => c.rise)) - 5;
    this.outline = [
      [Math.min(...ends) - 5, top],
      [Math.max(...ends) + 5, top],
      [Math.max(...ends) + 5, this.#foot + 3],
      [Math.min(...ends) - 5, this.#foot + 3],
    ];
  }

  draw(canvas: Canvas, time: number): void {
    for (const { stem, x, span, rise, bark, leaves } of this.#canes) {
      const turned = stem.turned[0]!;
      const at = (s: number): [number, number] => {
        // Held at the root, free at the tip: most at the top of the arch.
        const give = turned * rise * Math.sin(Math.min(1, 1.2 * s) * Math.PI * 0.6);
        return [
          x + span * s + give,
          this.#foot - rise * 4 * s * (1 - 0.85 * s) * 0.9 - 0.3 * give * Math.sign(span),
        ];
      };
      let [px, py] = at(0);
      for (let k = 1; k <= PIECES; k++) {
        const [nx, ny] = at(k / PIECES);
        canvas.stroke(px, py, nx, ny, 0.011 * this.scale, 0.009 * this.scale, bark);
        [px, py] = [nx, ny];
      }
      const { wind } = stem;
      for (const leaf of leaves) {
        const [lx, ly] = at(leaf.on);
        this.leaf(canvas, time, leaf, lx, ly, Math.PI / 2 + leaf.angle + 0.5 * turned, wind);
      }
    }
  }
}
