import type { Canvas } from '../canvas.js';
import type { Flap } from '../flap.js';
import type { Stem } from '../sway.js';
import { Grown, type Soil } from './plant.js';

interface Twig {
  stem: Stem;
  x: number;
  y: number;
  /** From straight down, radians. */
  rest: number[];
  joint: number;
  leaves: { on: number; angle: number; flap: Flap; long: number; wide: number; light: number }[];
  bark: number;
}

/** Twigs that hang into the picture from above, leaves on both sides: chains of three. */
export class Twigs extends Grown {
  readonly outline: [number, number][];
  readonly #twigs: Twig[];

  constructor(soil: Soil) {
    super(soil, { stated: [0.08, 0.5], hertz: [0.5, 1.9] });
    const { build, x, view } = soil;
    const long = build.within(0.05, 0.11);
    const wide = long * build.within(0.3, 0.75);
    const across = build.within(0.5, 1.6) * this.scale;
    const roof = view.height * build.within(-0.1, 0.18);
    const light = build.within(0.06, 0.2);
    const droop = build.within(0.1, 0.7);
    this.#twigs = Array.from({ length: build.whole(9, 20) }, () => {
      const at = x + build.within(-0.5, 0.5) * across;
      const reach = build.within(0.25, 0.65);
      const way = build.happens(0.5) ? 1 : -1;
      return {
        stem: this.stem(at, reach, 3),
        x: at,
        y: roof + build.within(-0.15, 0.12) * this.scale,
        rest: [way * (droop + 0.5), way * droop, way * droop * 0.5],
        joint: (reach / 3) * this.scale,
        bark: build.within(0.03, 0.07),
        leaves: Array.from({ length: build.whole(7, 16) }, (_, i) => ({
          on: build.within(0.15, 3),
          angle: (i % 2 === 0 ? 1 : -1) * build.within(0.3, 1.2),
          flap: this.flap(),
          long: long * build.ratio(0.7, 1.3),
          wide: wide * build.ratio(0.7, 1.3),
          light: light * build.ratio(0.45, 2),
        })),
      };
    });
    const bottom = Math.max(...this.#twigs.map((t) => t.y + 2.6 * t.joint));
    this.outline = [
      [x - across / 2 - 0.25 * this.scale, Math.min(0, roof)],
      [x + across / 2 + 0.25 * this.scale, Math.min(0, roof)],
      [x + across / 2 + 0.2 * this.scale, bottom],
      [x - across / 2 - 0.2 * this.scale, bottom],
    ];
  }

  draw(canvas: Canvas, time: number): void {
    for (const twig of this.#twigs) {
      const knots: [number, number, number][] = [];
      let [x, y, turned] = [twig.x, twig.y, 0];
      for (let j = 0; j < 3; j++) {
        turned += twig.stem.turned[j]!;
        const angle = twig.rest[j]! + turned;
        knots.push([x, y, angle]);
        const [nx, ny] = [x + Math.sin(angle) * twig.joint, y + Math.cos(angle) * twig.joint];
        canvas.stroke(x, y, nx, ny, 0.012 * this.scale * (1 - 0.25 * j), 0.006 * this.scale, twig.bark);
        [x, y] = [nx, ny];
      }
      const { wind } = twig.stem;
      for (const leaf of twig.leaves) {
        const j = Math.min(2, Math.floor(leaf.on));
        const [kx, ky, angle] = knots[j]!;
        const part = (leaf.on - j) * twig.joint;
        const [lx, ly] = [kx + Math.sin(angle) * part, ky + Math.cos(angle) * part];
        this.leaf(canvas, time, leaf, lx, ly, Math.PI / 2 - angle + leaf.angle, wind);
      }
    }
  }
}
