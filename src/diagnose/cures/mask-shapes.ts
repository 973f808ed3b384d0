import type { Polygon } from '../../engine/mask.js';
import { rasterize } from '../../engine/mask.js';
import { CELLS, COLUMNS, ROWS } from '../../measure/pieces.js';

/** A mask that may be tried. */
export interface Shape {
  polygon: Polygon;
  /** CELLS bytes, 1 where the cell's middle lies under it. */
  cells: Uint8Array;
  /** The same cells by their numbers, rising. */
  under: Uint8Array;
  /** How many they are. */
  size: number;
}

/** More than this share of the picture is never masked: the camera would hardly watch any more. */
const MOST_MASKED = 0.5;

/**
 * The masks that are considered: every upright rectangle, every corner cut off straight, and every strip along a side
 * whose inner edge may slope. Three or four corners each, on the lines between cells, in three decimals.
 */
export function shapes(): readonly Shape[] {
  drawn ??= [...rectangles(), ...corners(), ...strips()].flatMap((polygon) => shapeOf(polygon) ?? []);
  return drawn;
}

/** Drawing some ten thousand shapes takes longer than looking through them, and they are asked for again and again. */
let drawn: readonly Shape[] | null = null;

/** The shapes that come of moving one corner to the next crossing of the lines between cells, and are still convex. */
export function neighboursOf({ polygon }: Shape): Shape[] {
  const steps = [
    [-1, 0],
    [1, 0],
    [0, -1],
    [0, 1],
  ] as const;
  return polygon.flatMap(([x, y], corner) =>
    steps.flatMap(([right, down]) => {
      const [column, row] = [Math.round(x * COLUMNS) + right, Math.round(y * ROWS) + down];
      if (column < 0 || column > COLUMNS || row < 0 || row > ROWS) return [];
      const moved = polygon.map((p, i) => (i === corner ? at(column, row) : p));
      return (isConvex(moved) && shapeOf(moved)) || [];
    }),
  );
}

type Area = Pick<Shape, 'cells' | 'size'>;

/** Cells under both as a share of cells under either. */
export function overlap(a: Area, b: Area): number {
  let both = 0;
  for (let cell = 0; cell < CELLS; cell++) both += a.cells[cell]! & b.cells[cell]!;
  return both / (a.size + b.size - both);
}

const scratch = new Uint8Array(CELLS);

function shapeOf(polygon: Polygon): Shape | null {
  const cells = rasterize([polygon], COLUMNS, ROWS);
  let size = 0;
  for (let cell = 0; cell < CELLS; cell++) if (cells[cell] === 1) scratch[size++] = cell;
  return size > 0 && size <= MOST_MASKED * CELLS
    ? { polygon, cells, under: scratch.slice(0, size), size }
    : null;
}

/** Whether a walk round the corners turns the same way at each of them, and turns at each. */
function isConvex(polygon: Polygon): boolean {
  const n = polygon.length;
  const turns = polygon.map(([x, y], i) => {
    const [x1, y1] = polygon[(i + 1) % n] as [number, number];
    const [x2, y2] = polygon[(i + 2) % n] as [number, number];
    return (x1 - x) * (y2 - y1) - (y1 - y) * (x2 - x1);
  });
  return turns.every((turn) => turn > 1e-4) || turns.every((turn) => turn < -1e-4);
}

function* rectangles(): Generator<Polygon> {
  for (let left = 0; left < COLUMNS; left++) {
    for (let right = left + 1; right <= COLUMNS; right++) {
      for (let top = 0; top < ROWS; top++) {
        for (let bottom = top + 1; bottom <= ROWS; bottom++) {
          yield [at(left, top), at(right, top), at(right, bottom), at(left, bottom)];
        }
      }
    }
  }
}

function* corners(): Generator<Polygon> {
  for (const [x, y] of [
    [0, 0],
    [COLUMNS, 0],
    [COLUMNS, ROWS],
    [0, ROWS],
  ] as const) {
    for (let along = 2; along <= COLUMNS; along++) {
      for (let down = 2; down <= ROWS; down++) {
        yield [at(x, y), at(Math.abs(x - along), y), at(x, Math.abs(y - down))];
      }
    }
  }
}

function* strips(): Generator<Polygon> {
  for (let a = 1; a <= COLUMNS / 2; a++) {
    for (let b = 1; b <= COLUMNS / 2; b++) {
      if (a === b) continue;
      yield [at(0, 0), at(a, 0), at(b, ROWS), at(0, ROWS)];
      yield [at(COLUMNS, 0), at(COLUMNS, ROWS), at(COLUMNS - b, ROWS), at(COLUMNS - a, 0)];
    }
  }
  for (let a = 1; a <= ROWS / 2; a++) {
    for (let b = 1; b <= ROWS / 2; b++) {
      if (a === b) continue;
      yield [at(0, 0), at(COLUMNS, 0), at(COLUMNS, b), at(0, a)];
      yield [at(0, ROWS), at(0, ROWS - a), at(COLUMNS, ROWS - b), at(COLUMNS, ROWS)];
    }
  }
}

function at(column: number, row: number): [number, number] {
  const round = (x: number) => Math.round(1000 * x) / 1000;
  return [round(column / COLUMNS), round(row / ROWS)];
}
