import type { Canvas } from '../canvas.js';
import type { Flap } from '../flap.js';
import type { Stem } from '../sway.js';
import { groundRow } from '../view.js';
import { Grown, type Soil } from './plant.js';

interface Blade {
  x: number;
  y: number;
  tall: number;
  lean: number;
  curl: number;
  light: number;
  flap: Flap;
}

const PIECES = 4;

/** A stand of long grass: single blades that bend more towards the tip. */
export class Grass extends Grown {
  readonly outline: [number, number][];
  readonly #tufts: { stem: Stem; blades: Blade[] }[];
  readonly #thick: number;

  constructor(soil: Soil) {
    super(soil, { stated: [0.12, 0.7], hertz: [1, 4] });
    const { build, view, x, away } = soil;
    const tall = build.within(0.2, 0.55);
    const across = build.within(0.4, 1.1) * this.scale;
    const foot = groundRow(view, away);
    this.#thick = build.within(0.004, 0.011) * this.scale;
    const light = build.within(0.09, 0.22);
    this.#tufts = Array.from({ length: build.whole(14, 30) }, () => {
      const at = x + build.within(-0.5, 0.5) * across;
      const y = foot + build.within(-0.04, 0.04) * this.scale;
      return {
        stem: this.stem(at, tall, 1),
        blades: Array.from({ length: build.whole(4, 9) }, () => ({
          x: at + build.bell() * 0.03 * this.scale,
          y,
          tall: tall * build.ratio(0.5, 1.25) * this.scale,
          lean: build.bell() * 0.25,
          curl: build.within(-0.8, 0.8),
          light: light * build.ratio(0.55, 1.8),
          flap: this.flap(),
        })),
      };
    });
    const top = foot - tall * this.scale;
    const half = across / 2 + 0.1 * this.scale;
    this.outline = [
      [x - half, top],
      [x + half, top],
      [x + half, foot + 3],
      [x - half, foot + 3],
    ];
  }

  draw(canvas: Canvas, time: number): void {
    for (const { stem, blades } of this.#tufts) {
      const { wind } = stem;
      for (const b of blades) {
        const own = b.flap.at(time, wind, this.soil.rings);
        let [x, y, angle] = [b.x, b.y, b.lean];
        const bend = 2 * stem.turned[0]! + 0.4 * own + b.curl;
        for (let k = 0; k < PIECES; k++) {
          angle += (bend * (k + 0.5)) / PIECES ** 2;
          const [nx, ny] = [x + (Math.sin(angle) * b.tall) / PIECES, y - (Math.cos(angle) * b.tall) / PIECES];
          const wide = this.#thick * (1 - k / PIECES);
          canvas.stroke(
            x,
            y,
            nx,
            ny,
            wide,
            this.#thick * (1 - (k + 1) / PIECES),
            b.light * b.flap.shine(own),
          );
          [x, y] = [nx, ny];
        }
        this.targets.push({ x, y, area: (b.tall * this.#thick) / this.scale ** 2, flap: b.flap });
      }
    }
  }
}
