import { between, pick, type Random, spread } from '../base/random.js';
import type { Garden } from './garden.js';

const cell = 4;

/** A clump of leaves somewhere above, and the oscillator that carries its shade. Pixels. */
interface Clump {
  x: number;
  y: number;
  wide: number;
  tall: number;
  dark: number;
  column: number;
  reach: number;
}

/** The shadow of somebody or something out of view as it goes over the ground: seconds and pixels. */
export interface Passing {
  start: number;
  end: number;
  /** At start, middle and end. */
  x: [number, number, number];
  y: number;
  wide: number;
  tall: number;
  dark: number;
}

/** Light and shade over the picture, on a grid of cells of 4 pixels: it is soft, so a coarse grid shows it well. */
export class Shade {
  readonly #clumps: Clump[] = [];
  readonly #grid: Float32Array;
  readonly #columns: number;
  readonly #rows: number;
  readonly #width: number;
  readonly #height: number;
  readonly #row: Float32Array;
  readonly #passing: readonly Passing[];

  constructor(garden: Garden, passing: readonly Passing[], place: Random) {
    this.#width = garden.width;
    this.#height = garden.height;
    this.#columns = Math.ceil(garden.width / cell) + 1;
    this.#rows = Math.ceil(garden.height / cell) + 1;
    this.#grid = new Float32Array(this.#columns * this.#rows);
    this.#row = new Float32Array(this.#columns);
    this.#passing = passing;
    const scale = garden.width / 320;
    const boughs = garden.plants.filter((p) => p.kind === 'bough');
    for (let i = 0; i < 34; i++) {
      const bough = pick(place, boughs);
      const near = place();
      this.#clumps.push({
        x: between(place, -20, garden.width + 20),
        y: garden.height * (0.42 + 0.62 * near),
        wide: between(place, 7, 22) * scale * (0.7 + near),
        tall: between(place, 3, 8) * scale * (0.7 + near),
        dark: between(place, 0.4, 0.9),
        column: bough.column + Math.floor(place() * bough.oscillators.length),
        reach: between(place, 10, 26) * scale,
      });
    }
  }

  /** Sets the grid to the shade of one frame. */
  set(sway: Float32Array, row: number, time: number, sun: number): void {
    this.#grid.fill(0);
    if (sun > 0.01) {
      for (const c of this.#clumps) {
        const q = sway[row + c.column]! * c.reach;
        const moved = q / (1 + Math.abs(q) / (2 * c.reach));
        this.#blot(c.x + moved, c.y + 0.15 * moved, c.wide, c.tall, c.dark);
      }
    }
    for (let i = 0; i < this.#grid.length; i++) {
      this.#grid[i] = 1 - sun + sun * Math.max(0.25, 1.3 - this.#grid[i]!);
    }
    for (const p of this.#passing) {
      if (time < p.start || time > p.end) continue;
      const u = (2 * (time - p.start)) / (p.end - p.start);
      const x = u < 1 ? p.x[0] + (p.x[1] - p.x[0]) * u : p.x[1] + (p.x[2] - p.x[1]) * (u - 1);
      this.#dim(x, p.y, p.wide, p.tall, p.dark * (0.35 + 0.9 * sun));
    }
  }

  /** How bright the light falls at a pixel. */
  at(x: number, y: number): number {
    const j = Math.min(this.#columns - 1, Math.max(0, Math.round(x / cell)));
    const i = Math.min(this.#rows - 1, Math.max(0, Math.round(y / cell)));
    return this.#grid[i * this.#columns + j]!;
  }

  /** Writes `still` under this light into `rgb`, both interleaved RGB. */
  light(still: Float32Array, rgb: Float32Array): void {
    const row = this.#row;
    for (let y = 0; y < this.#height; y++) {
      const g = Math.floor(y / cell);
      const down = y / cell - g;
      const a = g * this.#columns;
      const b = Math.min(g + 1, this.#rows - 1) * this.#columns;
      for (let j = 0; j < this.#columns; j++) {
        row[j] = this.#grid[a + j]! * (1 - down) + this.#grid[b + j]! * down;
      }
      let i = y * this.#width * 3;
      for (let x = 0; x < this.#width; x += cell) {
        const j = x / cell;
        let light = row[j]!;
        const rise = (row[j + 1]! - light) / cell;
        for (let px = x; px < x + cell && px < this.#width; px++, light += rise, i += 3) {
          rgb[i] = still[i]! * light;
          rgb[i + 1] = still[i + 1]! * light;
          rgb[i + 2] = still[i + 2]! * light;
        }
      }
    }
  }

  #blot(x: number, y: number, wide: number, tall: number, dark: number): void {
    this.#each(x, y, wide, tall, (i, q) => {
      this.#grid[i] = this.#grid[i]! + dark * q;
    });
  }

  #dim(x: number, y: number, wide: number, tall: number, dark: number): void {
    this.#each(x, y, wide, tall, (i, q) => {
      this.#grid[i] = this.#grid[i]! * (1 - Math.min(0.85, dark) * Math.min(1, q * 1.6));
    });
  }

  #each(x: number, y: number, wide: number, tall: number, use: (i: number, q: number) => void): void {
    const x0 = Math.max(0, Math.floor((x - wide) / cell));
    const x1 = Math.min(this.#columns - 1, Math.ceil((x + wide) / cell));
    const y0 = Math.max(0, Math.floor((y - tall) / cell));
    const y1 = Math.min(this.#rows - 1, Math.ceil((y + tall) / cell));
    for (let j = y0; j <= y1; j++) {
      for (let i = x0; i <= x1; i++) {
        const q = 1 - ((i * cell - x) / wide) ** 2 - ((j * cell - y) / tall) ** 2;
        if (q > 0) use(j * this.#columns + i, q);
      }
    }
  }
}

/** Shadows that pass: mostly a person beyond the edge who comes, stays and goes, sometimes a bird overhead. */
export function passingShadows(
  perHour: number,
  seconds: number,
  width: number,
  height: number,
  r: Random,
): Passing[] {
  return spread(r, perHour, seconds).map((start) => {
    const bird = r() < 0.35;
    const from = r() < 0.5 ? -0.3 * width : 1.3 * width;
    const length = bird ? between(r, 0.8, 1.5) : between(r, 3, 8);
    return {
      start,
      end: Math.min(start + length, seconds),
      x: bird
        ? [from, width / 2, width - from]
        : [from, from + (width / 2 - from) * between(r, 0.5, 1), from],
      y: height * between(r, 0.6, 0.95),
      wide: width * (bird ? between(r, 0.08, 0.14) : between(r, 0.16, 0.3)),
      tall: height * (bird ? between(r, 0.06, 0.1) : between(r, 0.3, 0.6)),
      dark: between(r, 0.5, 0.75),
    };
  });
}
