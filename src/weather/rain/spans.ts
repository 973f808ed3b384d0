/**
 * Where values of a picture are alike, side by side: for each stretch its first place, the place after its last, and what it is
 * of, three numbers after one another. Loops over stretches ask nothing of each pixel.
 * @param kindOf a whole number below 2^32 for each value; stretches of undefined are left out
 */
export function spansOf(
  values: ArrayLike<number>,
  kindOf: (value: number) => number | undefined,
): Uint32Array {
  const spans: number[] = [];
  for (let start = 0; start < values.length; ) {
    const kind = kindOf(values[start]!);
    let end = start + 1;
    while (end < values.length && kindOf(values[end]!) === kind) end++;
    if (kind !== undefined) spans.push(start, end, kind);
    start = end;
  }
  return Uint32Array.from(spans);
}
