import type { Polygon } from '../../engine/mask.js';
import { placeName } from '../../words/diagnosis-wording.js';
import { FONT, framed } from './draw.js';

const WIDTH = 344;
/** Least height of the strip that tells what size or shade means. */
const KEY = 30;
/** A map is drawn on a picture, so its inks are the same on paper and in the dark. */
const [INK, LIGHT, PAPER] = ['#1d1d1d', '#ffffff', '#e4e0d4'];

/** Hatched squares for triggers, shades for visits, whose boxes cover many cells: told apart without colour. */
export type PlaceMark = 'square' | 'shade';

export interface PlaceMap {
  /** The id of the image to draw on, see `groundImage`; null for none. */
  backdrop: string | null;
  /** Height for each unit of width. */
  aspect: number;
  /** Not watched now: veiled, and outlined with dots. */
  masked: readonly Polygon[];
  /** What would be masked: outlined with dashes. */
  proposed: readonly Polygon[];
  /** What to count in which cells, rows from the top; null for a map of polygons alone. */
  counted: { columns: number; rows: number; counts: readonly number[]; mark: PlaceMark; unit: string } | null;
}

/** The picture that maps are drawn on, once for all of them on a page, itself unseen. */
export function groundImage(id: string, address: string, aspect: number): string {
  return `<svg width="0" height="0" class="backdrop" aria-hidden="true"><defs><image id="${id}" href="${address}" width="${WIDTH}" height="${heightOf(aspect)}" preserveAspectRatio="none"/></defs></svg>`;
}

/** Where in the picture something was, on a pale picture of the scene: a mark in each cell, its area or darkness as the count there. */
export function placeMap(map: PlaceMap, id: string, title: string): string {
  const { backdrop, aspect, masked, proposed, counted } = map;
  const height = heightOf(aspect);
  const total = height + (counted ? keyHeight(counted, height) : 0);
  const svg =
    `<svg viewBox="0 0 ${WIDTH} ${total}" width="${WIDTH}" height="${total}" font-family="system-ui, sans-serif" font-size="${FONT + 1}" fill="${INK}">` +
    `<rect width="${WIDTH}" height="${total}" fill="${PAPER}"/>` +
    (backdrop === null ? '' : `<use href="#${backdrop}"/>`) +
    masked
      .map((polygon) => `<polygon points="${pointsOf(polygon, height)}" fill="${LIGHT}" opacity="0.55"/>`)
      .join('') +
    (counted ? marks(counted, height, id) + key(counted, height, id) : '') +
    masked.map((polygon) => outline(polygon, height, '1 4')).join('') +
    proposed.map((polygon) => outline(polygon, height, '8 4')).join('') +
    '</svg>';
  const hatching = `<defs><pattern id="${id}-hatch" width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="4" height="4" fill="${LIGHT}"/><path d="M0,0V4" stroke="${INK}" stroke-width="2.4"/></pattern></defs>`;
  return framed(
    { id, title, description: description(map) },
    svg,
    counted?.mark === 'square' ? hatching : '',
  );
}

type Counted = NonNullable<PlaceMap['counted']>;

function marks(counted: Counted, height: number, id: string): string {
  const { columns, rows, counts, mark } = counted;
  const [cellWidth, cellHeight] = [WIDTH / columns, height / rows];
  if (mark === 'shade') {
    return counts
      .map((count, i) => {
        if (count === 0) return '';
        const [x, y] = [(i % columns) * cellWidth, Math.floor(i / columns) * cellHeight];
        return shade(x, y, cellWidth, cellHeight, darknessOf(counted)(count));
      })
      .join('');
  }
  const size = sizeOf(counted, height);
  const shapes = counts.flatMap((count, i) => {
    if (count === 0) return [];
    const x = ((i % columns) + 0.5) * cellWidth;
    return [square(x, (Math.floor(i / columns) + 0.5) * cellHeight, size(count))];
  });
  return shapes.length === 0 ? '' : inked(shapes.join(''), id);
}

/** How dark a cell is by its count: from just to be seen up to where the scene still shows through. */
const [LIGHTEST, DARKEST] = [0.14, 0.68];

function darknessOf({ counts }: Counted): (count: number) => number {
  const most = counts.reduce((a, b) => Math.max(a, b), 1);
  return (count) => LIGHTEST + (DARKEST - LIGHTEST) * (most === 1 ? 0.5 : (count - 1) / (most - 1));
}

function shade(x: number, y: number, width: number, height: number, darkness: number): string {
  const [left, top] = [rounded(x), rounded(y)];
  return `<rect x="${left}" y="${top}" width="${rounded(rounded(x + width) - left)}" height="${rounded(rounded(y + height) - top)}" fill="${INK}" fill-opacity="${Math.round(100 * darkness) / 100}" shape-rendering="crispEdges"/>`;
}

/** A mark's width by its count: the largest fills its cell, and areas go with counts. */
function sizeOf(counted: Counted, height: number): (count: number) => number {
  const most = counted.counts.reduce((a, b) => Math.max(a, b), 1);
  const widest = widestOf(counted, height);
  return (count) => widest * Math.sqrt(count / most);
}

function widestOf({ columns, rows }: Counted, height: number): number {
  return Math.min(WIDTH / columns, height / rows) - 2;
}

function keyHeight(counted: Counted, height: number): number {
  return Math.max(KEY, Math.ceil(widestOf(counted, height)) + 8);
}

function square(x: number, y: number, size: number): string {
  const half = rounded(size / 2);
  const [left, top, width] = [x - half, y - half, 2 * half].map(rounded);
  return `M${left},${top}h${width}v${width}h-${width}Z`;
}

/** A light line around a dark one, so that a mark shows on any ground. */
function inked(d: string, id: string): string {
  return (
    `<path d="${d}" fill="none" stroke="${LIGHT}" stroke-width="3.6"/>` +
    `<path d="${d}" fill="url(#${id}-hatch)" stroke="${INK}" stroke-width="1.3"/>`
  );
}

function outline(polygon: Polygon, height: number, dashes: '1 4' | '8 4'): string {
  const line = `<polygon points="${pointsOf(polygon, height)}" fill="none"`;
  const cap = dashes === '1 4' ? 'round' : 'butt';
  return (
    `${line} stroke="${LIGHT}" stroke-width="5" stroke-opacity="0.85"/>` +
    `${line} stroke="${INK}" stroke-width="2.2" stroke-dasharray="${dashes}" stroke-linecap="${cap}"/>`
  );
}

function pointsOf(polygon: Polygon, height: number): string {
  return polygon.map(([x, y]) => `${rounded(x * WIDTH)},${rounded(y * height)}`).join(' ');
}

/** Pixels of a shade's sample in the key. */
const SWATCH = 16;

/** A strip below the picture: what size or shade means what count. */
function key(counted: Counted, height: number, id: string): string {
  const { counts, mark, unit } = counted;
  const most = counts.reduce((a, b) => Math.max(a, b), 0);
  const middle = height + keyHeight(counted, height) / 2;
  if (most === 0) return `<text x="10" y="${middle}" dy="0.35em">none</text>`;
  const size = mark === 'square' ? sizeOf(counted, height) : () => SWATCH;
  const steps = [...new Set([most, Math.round(most / 3), 1])].filter((count) => count > 0);
  let x = 10;
  const parts = steps.map((count) => {
    const width = size(count);
    const drawn =
      mark === 'square'
        ? inked(square(x + width / 2, middle, width), id)
        : shade(x, middle - width / 2, width, width, darknessOf(counted)(count));
    const text = `<text x="${rounded(x + width + 6)}" y="${middle}" dy="0.35em">${count}</text>`;
    x += width + 6 + 8 * String(count).length + 14;
    return drawn + text;
  });
  return `${parts.join('')}<text x="${WIDTH - 10}" y="${middle}" dy="0.35em" text-anchor="end">${unit} in one place</text>`;
}

/** The ninths of the picture with the highest counts, for those who do not see the map. */
function description({ counted, masked, proposed }: PlaceMap): string {
  const said = [
    ...(counted ? [placesText(counted)] : []),
    ...(masked.length > 0 ? ['Part of the picture is masked now.'] : []),
    ...(proposed.length > 0 ? ['What would be masked is outlined.'] : []),
  ];
  return said.join(' ');
}

function placesText({ columns, rows, counts, unit }: Counted): string {
  const most = new Map<string, number>();
  counts.forEach((count, i) => {
    const place = placeName(((i % columns) + 0.5) / columns, (Math.floor(i / columns) + 0.5) / rows);
    if (count > (most.get(place) ?? 0)) most.set(place, count);
  });
  const list = [...most].sort((a, b) => b[1] - a[1]).map(([place, count]) => `${place} ${count}`);
  return list.length === 0 ? `No ${unit}.` : `Most ${unit} in one place: ${list.join(', ')}.`;
}

function heightOf(aspect: number): number {
  return Math.round(WIDTH * aspect);
}

function rounded(v: number): number {
  return Math.round(v * 10) / 10;
}
