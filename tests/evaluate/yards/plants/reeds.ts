import type { Canvas } from '../canvas.js';
import type { Flap } from '../flap.js';
import type { Stem } from '../sway.js';
import { groundRow } from '../view.js';
import { Grown, type Soil } from './plant.js';

/** Tall reeds: a stalk of two joints, long leaves that stream from it, a plume. */
export class Reeds extends Grown {
  readonly outline: [number, number][];
  readonly #stalks: {
    stem: Stem;
    x: number;
    y: number;
    tall: number;
    lean: number;
    plume: number;
    light: number;
    leaves: { on: number; angle: number; flap: Flap; long: number; wide: number; light: number }[];
  }[];

  constructor(soil: Soil) {
    super(soil, { stated: [0.06, 0.4], hertz: [0.5, 1.5] });
    const { build, x, view, away } = soil;
    const across = build.within(0.4, 1.2) * this.scale;
    const foot = groundRow(view, away);
    const tall = build.within(0.7, 1.5) * this.scale;
    const light = build.within(0.1, 0.26);
    this.#stalks = Array.from({ length: build.whole(14, 32) }, () => {
      const at = x + build.within(-0.5, 0.5) * across;
      return {
        stem: this.stem(at, tall / this.scale, 2),
        x: at,
        y: foot + build.within(-0.08, 0.03) * this.scale,
        tall: tall * build.within(0.65, 1.1),
        lean: build.bell() * 0.08,
        plume: build.within(0.05, 0.14) * this.scale,
        light: light * build.ratio(0.6, 1.7),
        leaves: Array.from({ length: build.whole(3, 6) }, () => ({
          on: build.within(0.3, 0.95),
          angle: (build.happens(0.5) ? 1 : -1) * build.within(0.4, 1.1),
          flap: this.flap(),
          long: build.within(0.15, 0.35),
          wide: build.within(0.008, 0.022),
          light: light * build.ratio(0.6, 1.6),
        })),
      };
    });
    this.outline = [
      [x - across / 2 - 0.2 * this.scale, foot - 1.1 * tall],
      [x + across / 2 + 0.2 * this.scale, foot - 1.1 * tall],
      [x + across / 2 + 0.1 * this.scale, foot + 3],
      [x - across / 2 - 0.1 * this.scale, foot + 3],
    ];
  }

  draw(canvas: Canvas, time: number): void {
    for (const s of this.#stalks) {
      const low = s.lean + s.stem.turned[0]!;
      const high = low + s.stem.turned[1]!;
      const half = s.tall / 2;
      const [mx, my] = [s.x + Math.sin(low) * half, s.y - Math.cos(low) * half];
      const [tx, ty] = [mx + Math.sin(high) * half, my - Math.cos(high) * half];
      const thick = 0.009 * this.scale;
      canvas.stroke(s.x, s.y, mx, my, thick, thick * 0.8, s.light);
      canvas.stroke(mx, my, tx, ty, thick * 0.8, thick * 0.5, s.light);
      const { wind } = s.stem;
      for (const leaf of s.leaves) {
        const upper = leaf.on > 0.5;
        const part = 2 * (upper ? leaf.on - 0.5 : leaf.on);
        const [x, y] = upper
          ? [mx + (tx - mx) * part, my + (ty - my) * part]
          : [s.x + (mx - s.x) * part, s.y + (my - s.y) * part];
        this.leaf(canvas, time, leaf, x, y, -Math.PI / 2 + (upper ? high : low) + leaf.angle, wind);
      }
      canvas.blob(tx, ty, s.plume, s.plume * 0.25, -Math.PI / 2 + high, s.light * 0.5);
    }
  }
}
