/** Neighbourhoods: sets of nine bits, one for each pixel of a block of 3 by 3, row by row. */
export const NEIGHBOURHOODS = 512;

/** A pixel and its neighbours, row by row; the index of each is its bit in a neighbourhood. */
const BLOCK = [-1, 0, 1].flatMap((y) => [-1, 0, 1].map((x) => ({ x, y })));
const CENTRE = 1 << 4;

/**
 * For each neighbourhood, which neighbours must be looked up to meet all that are placed: those that touch one another are
 * joined already, so that one of them serves all.
 */
export interface LookUps {
  /** The offset of one placed neighbour in the padded frame, that of the pixel itself where there is none. */
  readonly first: Int32Array;
  /** The neighbourhood without that neighbour and those that touch it, directly or through others. */
  readonly rest: Uint16Array;
  /** The offset of a neighbour in the rest, or once more the first where nothing is left. */
  readonly second: Int32Array;
  /** The rest of that rest. */
  readonly third: Uint16Array;
}

/** @param stride pixels of a row of the padded frame */
export function lookUps(stride: number): LookUps {
  const rest = restOf();
  const first = new Int32Array(NEIGHBOURHOODS);
  const second = new Int32Array(NEIGHBOURHOODS);
  const third = new Uint16Array(NEIGHBOURHOODS);
  for (let near = 1; near < NEIGHBOURHOODS; near++) {
    const index = lowestBit(near & ~CENTRE);
    if (index >= 0) first[near] = BLOCK[index]!.y * stride + BLOCK[index]!.x;
  }
  for (let near = 1; near < NEIGHBOURHOODS; near++) {
    const left = rest[near]!;
    second[near] = first[left === 0 ? near : left]!;
    third[near] = rest[left]!;
  }
  return { first, rest, second, third };
}

let rest: Uint16Array | null = null;

/** The same for frames of any size, so it is worked out once: a meter for each of many boxes costs next to nothing. */
function restOf(): Uint16Array {
  if (rest) return rest;
  rest = new Uint16Array(NEIGHBOURHOODS);
  for (let near = 1; near < NEIGHBOURHOODS; near++) {
    const neighbours = near & ~CENTRE;
    const index = lowestBit(neighbours);
    if (index >= 0) rest[near] = neighbours & ~groupOf(index, neighbours);
  }
  return rest;
}

function lowestBit(bits: number): number {
  return 31 - Math.clz32(bits & -bits);
}

/** The neighbours among `near` that neighbour `seed` touches, directly or through others of them. */
function groupOf(seed: number, near: number): number {
  const isIn = (group: number, index: number) => (group & (1 << index)) !== 0;
  let group = 1 << seed;
  for (let before = 0; before !== group; ) {
    before = group;
    BLOCK.forEach((a, i) => {
      const touches = BLOCK.some(
        (b, j) => isIn(before, j) && Math.abs(a.x - b.x) < 2 && Math.abs(a.y - b.y) < 2,
      );
      if (isIn(near, i) && touches) group |= 1 << i;
    });
  }
  return group;
}
