/** An expression of more parts than this is not worth it: each is looked at for every frame. */
const MOST_RUNS = 60;
/** Halvings of the span in which a step is sought: past what a number can hold. */
const HALVINGS = 60;

/**
 * An expression for ffmpeg's filter `select` that is true for just these frames by their numbers, so that no other is scaled
 * or piped: a few runs, or frames as evenly spaced as whole numbers can be (a camera that compares 2 of 25 frames a second).
 * Null where there is none, or none is needed.
 * @param indices rising
 */
export function selectionOf(indices: ArrayLike<number>): string | null {
  if (indices.length === 0) return null;
  const runs = runsOf(indices);
  if (runs === null) return evenSteps(indices);
  const [first] = runs;
  // All frames from the first on: reading stops by itself after the last.
  if (runs.length === 1 && first![0] === 0) return null;
  return runs.map(([from, to]) => (from === to ? `eq(n,${from})` : `between(n,${from},${to})`)).join('+');
}

function runsOf(indices: ArrayLike<number>): [number, number][] | null {
  const runs: [number, number][] = [];
  for (let k = 0; k < indices.length; k++) {
    const index = indices[k]!;
    const run = runs.at(-1);
    if (run && index === run[1] + 1) run[1] = index;
    else if (runs.push([index, index]) > MOST_RUNS) return null;
  }
  return runs;
}

/** Indices that are step * j + offset rounded up, for j = 0, 1, ...; whatever is found is tried on every frame. */
function evenSteps(indices: ArrayLike<number>): string | null {
  const count = indices.length;
  const first = indices[0]!;
  const last = indices[count - 1]!;
  // How much room is left for the offset is a concave function of the step.
  let [low, high] = [(last - first - 1) / (count - 1), (last - first + 1) / (count - 1)];
  for (let i = 0; i < HALVINGS; i++) {
    const [a, b] = [low + (high - low) / 3, high - (high - low) / 3];
    if (roomAt(a, indices).room < roomAt(b, indices).room) low = a;
    else high = b;
  }
  const step = (low + high) / 2;
  const { room, least } = roomAt(step, indices);
  if (!(room > 0)) return null;
  const offset = least + room / 2;
  if (!isSelected(step, offset, indices)) return null;
  return `between(n,${first},${last})*gt(floor((n-(${offset}))/${step}),floor((n-1-(${offset}))/${step}))`;
}

/** Offsets from `least` up, as far as there is room, are right for all indices; none where that is below 0. */
function roomAt(step: number, indices: ArrayLike<number>): { room: number; least: number } {
  let least = Number.NEGATIVE_INFINITY;
  let most = Number.POSITIVE_INFINITY;
  for (let j = 0; j < indices.length; j++) {
    const rest = indices[j]! - step * j;
    if (rest < most) most = rest;
    if (rest - 1 > least) least = rest - 1;
  }
  return { room: most - least, least };
}

/** Whether the expression, computed as ffmpeg does, holds for the indices and for no frame between. */
function isSelected(step: number, offset: number, indices: ArrayLike<number>): boolean {
  const last = indices[indices.length - 1]!;
  let k = 0;
  for (let n = indices[0]!; n <= last; n++) {
    const taken = Math.floor((n - offset) / step) > Math.floor((n - 1 - offset) / step);
    if (taken !== (n === indices[k])) return false;
    if (taken) k++;
  }
  return k === indices.length;
}
