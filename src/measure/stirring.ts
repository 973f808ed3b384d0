import { CELLS, type PiecesAt } from './pieces.js';

/** The pieces of one level, frame after frame, end to end: they are gone through for every mask that is tried. */
export interface Stirred {
  /** Frames in which there are any, rising. */
  places: Uint32Array;
  /** Of each of them its first piece, and of each piece its first cell; behind the last one where that would begin. */
  pieceAt: Uint32Array;
  cellAt: Uint32Array;
  cells: Uint8Array;
  /** Pixels of a piece in each of its cells. */
  counts: Uint32Array;
}

/**
 * Where a clip changed at each level.
 * @param bytes as a meter noted them (pieces.ts)
 * @param levels of those looked at, the ones to be told
 */
export function stirringOf(bytes: Uint8Array, levels: readonly number[]): Map<number, Stirred> {
  const sizes = new Map(levels.map((level) => [level, { frames: 0, pieces: 0, cells: 0 }]));
  walk(bytes, (level, _, pieces) => {
    const size = sizes.get(level);
    if (!size) return null;
    size.frames++;
    size.pieces += pieces;
    return () => {
      size.cells++;
    };
  });
  const into = new Map(
    [...sizes].map(([level, { frames, pieces, cells }]) => {
      const stirred: Stirred = {
        places: new Uint32Array(frames),
        pieceAt: new Uint32Array(frames + 1),
        cellAt: new Uint32Array(pieces + 1),
        cells: new Uint8Array(cells),
        counts: new Uint32Array(cells),
      };
      return [level, { stirred, frame: 0, piece: 0, end: 0 }];
    }),
  );
  walk(bytes, (level, place, pieces) => {
    const at = into.get(level);
    if (!at) return null;
    const { places, pieceAt, cellAt, cells, counts } = at.stirred;
    places[at.frame++] = place;
    pieceAt[at.frame] = pieceAt[at.frame - 1]! + pieces;
    return (cell, count, isLast) => {
      cells[at.end] = cell;
      counts[at.end++] = count;
      if (isLast) cellAt[++at.piece] = at.end;
    };
  });
  return new Map([...into].map(([level, { stirred }]) => [level, stirred]));
}

type TakeCell = (cell: number, count: number, isLast: boolean) => void;

/** Calls `begin` for each level of each frame, and what it gives for each cell of each piece in it. */
function walk(
  bytes: Uint8Array,
  begin: (level: number, place: number, pieces: number) => TakeCell | null,
): void {
  let at = 0;
  const varint = () => {
    let value = 0;
    for (let shift = 0; ; shift += 7) {
      const byte = bytes[at++]!;
      value |= (byte & 127) << shift;
      if (byte < 128) return value;
    }
  };
  for (let place = 0; at < bytes.length; place++) {
    for (let level = varint(); level !== 0; level = varint()) {
      const pieces = varint();
      const take = begin(level, place, pieces);
      for (let p = 0; p < pieces; p++) {
        const reached = varint();
        let cell = 0;
        for (let i = 1; i <= reached; i++) {
          cell += varint();
          const count = varint();
          take?.(cell, count, i === reached);
        }
      }
    }
  }
}

/**
 * The frames in which something in one piece changed, in order.
 * @param minimum pixels of the smallest piece, not below that of the rules
 */
export function* piecesIn(
  { places, pieceAt, cellAt, cells, counts }: Stirred,
  minimum: number,
): Generator<PiecesAt> {
  for (let f = 0; f < places.length; f++) {
    const pieces: PiecesAt['pieces'] = [];
    for (let piece = pieceAt[f]!; piece < pieceAt[f + 1]!; piece++) {
      const [first, end] = [cellAt[piece]!, cellAt[piece + 1]!];
      let size = 0;
      for (let i = first; i < end; i++) size += counts[i]!;
      if (size < minimum) continue;
      pieces.push({
        cells: Array.from(cells.subarray(first, end)),
        counts: Array.from(counts.subarray(first, end)),
      });
    }
    if (pieces.length > 0) yield { place: places[f]!, pieces };
  }
}

/** The pixels of the largest piece left in each frame once some cells are hidden. */
export function leftUnder(
  { places, pieceAt, cellAt, cells, counts }: Stirred,
  hidden: Uint8Array,
  frames: number,
): Uint32Array {
  const largest = new Uint32Array(frames);
  for (let f = 0; f < places.length; f++) {
    let most = 0;
    for (let piece = pieceAt[f]!; piece < pieceAt[f + 1]!; piece++) {
      let left = 0;
      for (let i = cellAt[piece]!; i < cellAt[piece + 1]!; i++) {
        if (hidden[cells[i]!] === 0) left += counts[i]!;
      }
      if (left > most) most = left;
    }
    largest[places[f]!] = most;
  }
  return largest;
}

/** How often each cell is reached in some frames, each piece counting as one spread over its cells. */
export function oftenIn(
  { places, pieceAt, cellAt, cells, counts }: Stirred,
  weightOf: (place: number) => number,
): Float64Array {
  const often = new Float64Array(CELLS);
  for (let f = 0; f < places.length; f++) {
    const weight = weightOf(places[f]!);
    if (weight === 0) continue;
    for (let piece = pieceAt[f]!; piece < pieceAt[f + 1]!; piece++) {
      let size = 0;
      for (let i = cellAt[piece]!; i < cellAt[piece + 1]!; i++) size += counts[i]!;
      for (let i = cellAt[piece]!; i < cellAt[piece + 1]!; i++)
        often[cells[i]!]! += (weight * counts[i]!) / size;
    }
  }
  return often;
}
