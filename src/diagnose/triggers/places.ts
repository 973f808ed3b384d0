import type { Region } from '../../engine/region.js';
import { labelOf } from '../../score/label-of.js';
import type { Box, Places } from '../diagnosis.js';
import type { ReplayedClip } from '../replayed-clip.js';
import { boxOf } from './look.js';

const COLUMNS = 24;
const ROWS = 18;

/** The box around a region, fractions of the frame. */
export function fractionBox(region: Region): Box {
  const { left, top, right, bottom } = boxOf(region);
  const { width, height } = region;
  return [left / width, top / height, (right - left) / width, (bottom - top) / height];
}

/** Gathers where triggers fired and where animals were, cell by cell. */
export class PlaceCounter {
  private readonly explained = new Array<number>(COLUMNS * ROWS).fill(0);
  /** Cells of each visit with a true trigger. */
  private readonly seen = new Map<number, Set<number>>();

  constructor(private readonly replayed: Pick<ReplayedClip, 'clip' | 'judged'>) {}

  addExplained(region: Region): void {
    for (const cell of cellsOf(region)) this.explained[cell]! += 1;
  }

  /** What fired in a true trigger; a branch that fired while the animal was there is told apart by the visit's box. */
  addTrue(trigger: number, region: Region): void {
    const visit = this.replayed.judged.triggers[trigger]?.visit ?? null;
    if (visit !== null) this.seen.set(visit, new Set([...(this.seen.get(visit) ?? []), ...cellsOf(region)]));
  }

  get places(): Places {
    const animals = new Array<number>(COLUMNS * ROWS).fill(0);
    for (const visit of this.replayed.judged.visits.keys()) {
      for (const cell of this.cellsOfVisit(visit)) animals[cell]! += 1;
    }
    return { columns: COLUMNS, rows: ROWS, explained: this.explained, animals };
  }

  private cellsOfVisit(visit: number): ReadonlySet<number> {
    const seen = this.seen.get(visit) ?? new Set();
    const given = boxOfVisit(this.replayed, visit);
    if (!given) return seen;
    const box = cellsOfBox(given);
    const within = new Set([...seen].filter((cell) => box.has(cell)));
    return within.size > 0 ? within : box;
  }
}

/** The box that a clip's labels give a visit, by its place among the animal visits; null where they give none. */
export function boxOfVisit(
  { clip, judged }: Pick<ReplayedClip, 'clip' | 'judged'>,
  visit: number,
): Box | null {
  const judgedVisit = judged.visits[visit];
  return (judgedVisit && labelOf(clip.labels, judgedVisit)?.box) ?? null;
}

function cellsOf({ mask, width, height }: Region): Set<number> {
  const cells = new Set<number>();
  for (let y = 0, i = 0; y < height; y++) {
    const row = Math.floor(((y + 0.5) * ROWS) / height) * COLUMNS;
    for (let x = 0; x < width; x++, i++) {
      if (mask[i] === 1) cells.add(row + Math.floor(((x + 0.5) * COLUMNS) / width));
    }
  }
  return cells;
}

function cellsOfBox([x, y, w, h]: readonly [number, number, number, number]): Set<number> {
  const cells = new Set<number>();
  const last = (edge: number, count: number) => Math.min(count - 1, Math.ceil(edge * count - 1e-9) - 1);
  for (let row = Math.floor(y * ROWS); row <= last(y + h, ROWS); row++) {
    for (let column = Math.floor(x * COLUMNS); column <= last(x + w, COLUMNS); column++) {
      cells.add(row * COLUMNS + column);
    }
  }
  return cells;
}
