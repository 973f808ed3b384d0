import * as Plot from '@observablehq/plot';
import { tidy } from '../../words/wording.js';
import type { ClipShown } from '../data.js';
import { colour } from '../palette.js';
import { FONT } from './draw.js';
import { type ColumnPoint, columnMaxima, type Rows, withoutRuns } from './strip-layout.js';

/** Pixels in a column of the area's line: fine enough for the eye, and an hour stays small. */
const COLUMN = 2;
/** As many powers of ten as can be written beside a row. */
const MOST_POWERS = 5;

/** The top of the scale: a power of ten above all that was measured and above the least area. */
export function topOf(clip: ClipShown): number {
  let most = clip.minimumArea;
  if (clip.area.kind === 'measured') {
    const { pixels } = clip.area;
    for (let k = 0; k < pixels.length; k++) most = Math.max(most, pixels[k]!);
  }
  return 10 ** Math.ceil(Math.log10(Math.max(10, most * 1.05)));
}

/** The area's line with its scale, and the least area that counts. */
export function areaMarks(clip: ClipShown, rows: Rows, inside: number): Plot.Markish[] {
  if (clip.area.kind !== 'measured') return [];
  const points = withoutRuns(
    columnMaxima(clip.area.times, clip.area.pixels, rows, Math.floor(inside / COLUMN)),
  );
  const least = rows.starts.map((start, row) => ({ row, x2: Math.min(rows.seconds, clip.seconds - start) }));
  const powers = Array.from({ length: Math.round(Math.log10(topOf(clip))) + 1 }, (_, i) => 10 ** i);
  const named = powers.length > MOST_POWERS ? powers.filter((_, i) => i % 2 === 0) : powers;
  const ticks = rows.starts.flatMap((_, row) => named.map((pixels) => ({ row, pixels })));
  return [
    Plot.text(ticks, {
      frameAnchor: 'left',
      y: 'pixels',
      fy: 'row',
      dx: -5,
      textAnchor: 'end',
      fontSize: FONT - 2,
      fill: colour('faint'),
      text: ({ pixels }: { pixels: number }) => (pixels >= 1000 ? `${pixels / 1000}k` : String(pixels)),
    }),
    Plot.lineY(closed(points), {
      x: 'x',
      y: 'pixels',
      fy: 'row',
      z: null,
      fill: colour('area'),
      fillOpacity: 0.45,
      stroke: colour('area'),
      strokeWidth: 1,
    }),
    Plot.link(least, {
      x1: 0,
      x2: 'x2',
      y1: clip.minimumArea,
      y2: clip.minimumArea,
      fy: 'row',
      stroke: colour('ink'),
      strokeDasharray: '5 3',
    }),
    Plot.text(least, {
      x: 'x2',
      y: clip.minimumArea,
      fy: 'row',
      text: () => `${tidy(clip.minimumArea)} px`,
      textAnchor: 'start',
      dx: 3,
      fontSize: FONT - 1,
      fill: colour('ink'),
    }),
  ];
}

/** The line of each row brought down to the axis at both ends, so that what lies under it can be filled. */
function closed(points: readonly ColumnPoint[]): ColumnPoint[] {
  return points.flatMap((point, i) => [
    ...(points[i - 1]?.row === point.row ? [] : [{ ...point, pixels: 1 }]),
    // Nothing changed: there is no zero on a logarithmic scale, and 1 stands on the axis.
    { ...point, pixels: Math.max(1, point.pixels) },
    ...(points[i + 1]?.row === point.row ? [] : [{ ...point, pixels: 1 }]),
  ]);
}
