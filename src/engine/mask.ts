type Point = readonly [x: number, y: number];

/** Corners as fractions of the frame, x then y, from the top left. */
export type Polygon = [number, number][];

/**
 * Marks the pixels that are not watched.
 *
 * A pixel is masked when its centre ((x + 0.5) / width, (y + 0.5) / height) lies inside any of the polygons, by
 * the even-odd rule within one polygon. A centre exactly on an edge belongs to the side right of or below it.
 *
 * @param polygons closed without repeating the first corner; corners as fractions of the frame
 * @returns `width * height` bytes, 1 where masked, rows from the top
 */
export function rasterize(
  polygons: readonly (readonly Point[])[],
  width: number,
  height: number,
): Uint8Array {
  const mask = new Uint8Array(width * height);
  for (const polygon of polygons) {
    for (let y = 0; y < height; y++) {
      const crossings = crossingsOf(polygon, (y + 0.5) / height);
      for (let x = 0, passed = 0; x < width && passed < crossings.length; x++) {
        while (passed < crossings.length && crossings[passed]! <= (x + 0.5) / width) passed++;
        if (passed % 2 === 1) mask[y * width + x] = 1;
      }
    }
  }
  return mask;
}

/** Where the polygon's edges cross the horizontal line at `y`, rising. */
function crossingsOf(polygon: readonly Point[], y: number): number[] {
  const crossings: number[] = [];
  let [fromX, fromY] = polygon[polygon.length - 1] ?? [0, 0];
  for (const [toX, toY] of polygon) {
    if (fromY > y !== toY > y) crossings.push(fromX + ((y - fromY) * (toX - fromX)) / (toY - fromY));
    [fromX, fromY] = [toX, toY];
  }
  return crossings.sort((a, b) => a - b);
}
