/** The connected regions of a mask, corners counted, each as its pixels. */
export function regions(mask: Uint8Array, width: number, height: number): number[][] {
  const left = Uint8Array.from(mask);
  const out: number[][] = [];
  for (let start = 0; start < left.length; start++) {
    if (left[start] === 0) continue;
    left[start] = 0;
    const region = [start];
    for (let n = 0; n < region.length; n++) {
      const [x, y] = [region[n]! % width, Math.floor(region[n]! / width)];
      for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v++) {
        for (let u = Math.max(0, x - 1); u <= Math.min(width - 1, x + 1); u++) {
          const i = v * width + u;
          if (left[i] === 0) continue;
          left[i] = 0;
          region.push(i);
        }
      }
    }
    out.push(region);
  }
  return out;
}
