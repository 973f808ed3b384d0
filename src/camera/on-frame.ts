import { Problem } from '../base/problem.js';
import type { Polygon } from '../engine/mask.js';

/** Nobody draws more by hand; each is held against every row of every camera's frame. */
const MOST_POLYGONS = 1000;
const MOST_CORNERS = 10_000;

/**
 * Refuses polygons with a corner off the frame: in pixels or percent they would cover all of it, or nothing.
 * @param path the file and the field, for messages: "labels.json: mask"
 * @throws Problem 'bad-field'
 */
export function refuseOffFrame(polygons: readonly Polygon[] | undefined, path: string): void {
  const refuseMore = (count: number, most: number, of: string, where: string) => {
    if (count <= most) return;
    throw new Problem(
      'bad-field',
      `${where}: expected at most ${most} ${of}, found ${count}; draw it coarser`,
    );
  };
  refuseMore(polygons?.length ?? 0, MOST_POLYGONS, 'polygons', path);
  for (const [i, polygon] of (polygons ?? []).entries()) {
    refuseMore(polygon.length, MOST_CORNERS, 'corners', `${path}[${i}]`);
    for (const [j, corner] of polygon.entries()) {
      const wrong = corner.findIndex((value) => !(value >= 0 && value <= 1));
      if (wrong < 0) continue;
      throw new Problem(
        'bad-field',
        `${path}[${i}][${j}][${wrong}]: expected a fraction of the frame, from 0 to 1, found ${corner[wrong]}; divide pixels by the frame's ${wrong === 0 ? 'width' : 'height'}, percent by 100`,
      );
    }
  }
}
