import type { AskedRow } from '../../../../tune/moments/ask.js';
import type { Known } from '../../../../tune/moments/known.js';

/** One question of the sheet: places of the moments that are shown and answered together, rising. */
export type Cell = readonly number[];

/** On one sheet: three rows of four, two of six. */
const MOST = 12;

/**
 * The questions that matter most now. Moments alike are one question while nobody has said anything of them; where
 * something is said of some, each of the others is a question by itself.
 * @param order places of rows, first those that matter most
 * @param known what the labels say of each moment now
 */
export function cellsOf(
  rows: readonly Pick<AskedRow, 'members'>[],
  order: readonly number[],
  known: readonly Known[],
): Cell[] {
  const cells = order.flatMap((place) => {
    const { members } = rows[place]!;
    const open = members.filter((member) => known[member] == null);
    return open.length === members.length ? [open] : open.map((member) => [member]);
  });
  return cells.filter((cell) => cell.length > 0).slice(0, MOST);
}

/** Some of the questions taken apart, a question for each picture, where they stood. */
export function takenApart(cells: readonly Cell[], which: (cell: Cell) => boolean): Cell[] {
  return cells.flatMap((cell) => (which(cell) ? cell.map((member) => [member]) : [cell]));
}

/** By what a question is known while the sheet stays as it is. */
export function keyOf(cell: Cell): number {
  return cell[0]!;
}
