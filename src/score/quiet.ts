/** Two-sided 90 %, as all intervals here: so much is left above the upper end. */
const TAIL = 0.05;

/**
 * Of `all` things, the most that can be of a kind where `found` of `seen` drawn at random, none twice, were: the upper end
 * of the exact interval (Clopper & Pearson 1934, Biometrika 26:404-413, for draws with replacement; here by the
 * hypergeometric law, for without). Nothing seen: all of them. Draws that were stratified by time tell at least as much
 * where the kind is commoner at some times (Cochran 1977, Sampling Techniques, chapter 5, from memory).
 * @returns a whole number from `found` to `all - seen + found`
 */
export function mostOfKind(all: number, seen: number, found: number, tail = TAIL): number {
  let low = found;
  let high = all - seen + found;
  // What is seen gets less likely with every further one of the kind.
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (atMost(found, all, middle, seen) >= tail) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** P(X <= found) where `seen` are drawn without replacement from `all`, `kind` of which are of the kind. */
function atMost(found: number, all: number, kind: number, seen: number): number {
  const least = Math.max(0, seen - (all - kind));
  let log = 0;
  // The chance of the fewest possible, as a product; then from each to the next by their ratio.
  if (least === 0) for (let j = 0; j < seen; j++) log += Math.log((all - kind - j) / (all - j));
  else for (let j = 0; j < all - seen; j++) log += Math.log((kind - j) / (all - j));
  let term = Math.exp(log);
  let sum = 0;
  for (let x = least; x <= found; x++) {
    sum += term;
    term *= ((kind - x) * (seen - x)) / ((x + 1) * (all - kind - seen + x + 1));
  }
  return sum;
}
