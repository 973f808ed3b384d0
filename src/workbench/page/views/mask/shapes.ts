import type { Polygon } from '../../../../engine/mask.js';
import type { Labels } from '../../../../score/labels.js';

export type Point = [x: number, y: number];
/** What is drawn on the picture, by its name in labels.json. */
export type Kind = 'mask' | 'foliage';

/** A polygon, or one corner of it. */
export interface Chosen {
  kind: Kind;
  polygon: number;
  corner: number;
}

const DIGITS = 4;

/** Within the frame, and no finer than a pixel of any picture. */
export function within([x, y]: readonly [number, number]): Point {
  const one = (v: number) => Number(Math.min(1, Math.max(0, v)).toFixed(DIGITS));
  return [one(x), one(y)];
}

/** Labels with other polygons of a kind; without any the field is left out. */
function withShapes(labels: Labels, kind: Kind, shapes: Polygon[]): Labels {
  const { [kind]: _, ...rest } = labels;
  return shapes.length > 0 ? { ...rest, [kind]: shapes } : rest;
}

/** @param polygon three corners or more */
export function addShape(labels: Labels, kind: Kind, polygon: Polygon): Labels {
  return withShapes(labels, kind, [...(labels[kind] ?? []), polygon]);
}

export function removeShape(labels: Labels, { kind, polygon }: Chosen): Labels {
  return withShapes(labels, kind, (labels[kind] ?? []).toSpliced(polygon, 1));
}

function changed(labels: Labels, { kind, polygon }: Chosen, to: (corners: Polygon) => Polygon): Labels {
  const shapes = labels[kind] ?? [];
  const corners = shapes[polygon];
  return corners ? withShapes(labels, kind, shapes.with(polygon, to(corners))) : labels;
}

export function moveCorner(labels: Labels, chosen: Chosen, to: Point): Labels {
  return changed(labels, chosen, (corners) => corners.with(chosen.corner, within(to)));
}

/** A corner in the middle of the side that follows the chosen one. */
export function addCorner(labels: Labels, chosen: Chosen): Labels {
  return changed(labels, chosen, (corners) => {
    const [x, y] = corners[chosen.corner]!;
    const [nextX, nextY] = corners[(chosen.corner + 1) % corners.length]!;
    return corners.toSpliced(chosen.corner + 1, 0, within([(x + nextX) / 2, (y + nextY) / 2]));
  });
}

/** Without a corner; of a triangle all goes, for two corners hold nothing. */
export function removeCorner(labels: Labels, chosen: Chosen): Labels {
  const corners = labels[chosen.kind]?.[chosen.polygon];
  if (!corners) return labels;
  if (corners.length <= 3) return removeShape(labels, chosen);
  return changed(labels, chosen, () => corners.toSpliced(chosen.corner, 1));
}
