/** Mean over a square of `2 * radius + 1`, as far as it lies within the frame. */
export function boxMean(values: Float32Array, width: number, height: number, radius: number): Float32Array {
  // Summed area table (Crow 1984), in doubles.
  const table = new Float64Array((width + 1) * (height + 1));
  for (let y = 0; y < height; y++) {
    for (let x = 0, row = 0; x < width; x++) {
      row += values[y * width + x]!;
      table[(y + 1) * (width + 1) + x + 1] = table[y * (width + 1) + x + 1]! + row;
    }
  }
  const out = new Float32Array(width * height);
  for (let y = 0; y < height; y++) {
    const top = Math.max(0, y - radius) * (width + 1);
    const rows = Math.min(height, y + radius + 1);
    const bottom = rows * (width + 1);
    for (let x = 0; x < width; x++) {
      const left = Math.max(0, x - radius);
      const right = Math.min(width, x + radius + 1);
      const sum = table[bottom + right]! - table[bottom + left]! - table[top + right]! + table[top + left]!;
      out[y * width + x] = sum / ((right - left) * (rows - Math.max(0, y - radius)));
    }
  }
  return out;
}
