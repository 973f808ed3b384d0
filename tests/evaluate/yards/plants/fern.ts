import type { Canvas } from '../canvas.js';
import type { Flap } from '../flap.js';
import type { Stem } from '../sway.js';
import { groundRow } from '../view.js';
import { Grown, type Soil } from './plant.js';

/** Ferns: fronds in a ring, each a bent rib with pinnae on both sides that grow shorter to the tip. */
export class Fern extends Grown {
  readonly outline: [number, number][];
  readonly #foot: number;
  readonly #pairs: number;
  readonly #fronds: {
    stem: Stem;
    x: number;
    long: number;
    lean: number;
    droop: number;
    light: number;
    flaps: Flap[];
  }[];

  constructor(soil: Soil) {
    super(soil, { stated: [0.07, 0.45], hertz: [0.9, 2.8] });
    const { build, x, view, away } = soil;
    this.#foot = groundRow(view, away);
    this.#pairs = build.whole(9, 14);
    const light = build.within(0.08, 0.22);
    const crowns = build.whole(2, 4);
    this.#fronds = Array.from({ length: crowns * build.whole(5, 8) }, (_, i) => {
      const long = build.within(0.3, 0.7);
      const at = x + ((i % crowns) - (crowns - 1) / 2) * 0.4 * this.scale;
      return {
        stem: this.stem(at, long, 1),
        x: at,
        long: long * this.scale,
        lean: build.within(-0.9, 0.9),
        droop: build.within(0.4, 1.3),
        light: light * build.ratio(0.6, 1.7),
        flaps: Array.from({ length: this.#pairs }, () => this.flap()),
      };
    });
    const xs = this.#fronds.map((f) => f.x);
    const reach = 0.75 * Math.max(...this.#fronds.map((f) => f.long));
    this.outline = [
      [Math.min(...xs) - reach, this.#foot - reach],
      [Math.min(...xs), this.#foot - 1.3 * reach],
      [Math.max(...xs), this.#foot - 1.3 * reach],
      [Math.max(...xs) + reach, this.#foot - reach],
      [Math.max(...xs) + reach * 0.4, this.#foot + 3],
      [Math.min(...xs) - reach * 0.4, this.#foot + 3],
    ];
  }

  draw(canvas: Canvas, time: number): void {
    for (const f of this.#fronds) {
      let [x, y, angle] = [f.x, this.#foot, f.lean + 0.4 * f.stem.turned[0]!];
      const piece = f.long / this.#pairs;
      const { wind } = f.stem;
      const turn = (Math.sign(f.lean) * f.droop + 1.2 * f.stem.turned[0]!) / this.#pairs;
      f.flaps.forEach((flap, k) => {
        angle += turn;
        const [nx, ny] = [x + Math.sin(angle) * piece, y - Math.cos(angle) * piece];
        canvas.stroke(x, y, nx, ny, 1, 1, f.light * 0.6);
        const side = f.long * 0.24 * (1 - k / this.#pairs) + 1;
        const own = flap.at(time, wind, this.soil.rings);
        const light = f.light * flap.shine(own);
        for (const way of [-1, 1]) {
          canvas.leaf(
            nx,
            ny,
            -Math.PI / 2 + angle + way * (1.2 + 0.5 * own),
            side,
            Math.max(1, side * 0.28),
            light,
          );
        }
        this.targets.push({ x: nx, y: ny, area: (side * side * 0.4) / this.scale ** 2, flap });
        [x, y] = [nx, ny];
      });
    }
  }
}
