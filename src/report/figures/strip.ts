import * as Plot from '@observablehq/plot';
import { clock, plural } from '../../words/wording.js';
import type { ClipShown, IgnoredShown, VisitShown } from '../data.js';
import { colour, type Role } from '../palette.js';
import { draw } from './draw.js';
import { areaMarks, topOf } from './strip-area.js';
import { cutToRows, drawable, rowsOf, triggerMarks } from './strip-layout.js';
import { CLOCK, clockMarks, LANE, LANES, named, nameMarks } from './strip-text.js';

/** For a page as wide as a sheet of paper, or for a phone. */
export type StripFormat = 'wide' | 'narrow';

const FORMATS = {
  wide: { width: 720, usual: 600 },
  narrow: { width: 344, usual: 300 },
} as const;

const LEFT = 34;
const RIGHT = 38;
const AREA = 62;
const MARKS = 17;
/** Pixels under which two triggers of one verdict share a mark. */
const APART = 9;

/** A mark's shape tells the verdict; its colour only says it again. */
export const triggerShapes = {
  true: { symbol: 'circle', role: 'caught', filled: true, text: 'an animal' },
  false: { symbol: 'times', role: 'nothing', filled: false, text: 'nothing' },
  ignored: { symbol: 'square', role: 'ignored', filled: false, text: 'ignored' },
  unjudged: { symbol: 'triangle', role: 'ink', filled: false, text: 'not labelled' },
} as const satisfies Record<string, { symbol: string; role: Role; filled: boolean; text: string }>;

/**
 * A clip over time, in rows like lines of text: the area at the chosen threshold (the most in each pixel column, on a
 * logarithmic scale), the least area that counts, visits as named bands, triggers as marks, ignored time hatched.
 */
export function strip(clip: ClipShown, id: string, format: StripFormat): string {
  const { width, usual } = FORMATS[format];
  const inside = width - LEFT - RIGHT;
  const rows = rowsOf(clip.seconds, usual, inside);
  const perPixel = rows.seconds / inside;
  const labels = clip.labels.kind === 'labelled' ? clip.labels : { visits: [], ignored: [] };
  const visits = drawable(cutToRows(labels.visits, rows), perPixel, ({ caught }) => String(caught));
  const ignored = drawable(cutToRows(labels.ignored, rows), perPixel, ({ kind }) => kind);
  const marks = triggerMarks(clip.triggers, rows, APART * perPixel);
  const ends = rows.starts.map((start, row) => ({ row, x2: Math.min(rows.seconds, clip.seconds - start) }));
  const [top, bottom] = [LANES * LANE + 4, MARKS + CLOCK];
  const rowHeight = top + bottom + (clip.area.kind === 'measured' ? AREA : 8);

  const inRow = { x: 'x', fy: 'row' } as const;
  const band = { x1: 'x1', x2: 'x2', fy: 'row' } as const;
  const kindOf = (kind: IgnoredShown['kind']) => (kind === 'not reviewed' ? 'blank' : 'ignored');
  const description = [
    `${plural(clip.triggers.length, 'trigger')} in ${clock(clip.seconds)}`,
    ...(clip.labels.kind === 'labelled'
      ? [`${clip.labels.score.caught} of ${plural(clip.labels.score.visits, 'visit')} caught`]
      : ['not labelled']),
  ].join('; ');

  return draw(
    { id, title: `${clip.name} over time`, description: `${description}.` },
    {
      width,
      height: rows.starts.length * rowHeight + 4,
      marginLeft: LEFT,
      marginRight: RIGHT,
      marginTop: 2,
      marginBottom: 2,
      x: { domain: [0, rows.seconds], axis: null },
      y: {
        type: 'log',
        domain: [1, topOf(clip)],
        clamp: true,
        insetTop: top,
        insetBottom: bottom,
        axis: null,
      },
      fy: { domain: rows.starts.map((_, row) => row), axis: null, padding: 0.06 },
      marks: [
        Plot.rect(ends, { x1: 0, x2: 'x2', fy: 'row', fill: colour('card'), insetBottom: CLOCK }),
        Plot.rect(ignored, {
          ...band,
          fill: ({ of }: { of: IgnoredShown }) => `url(#${id}-${kindOf(of.kind)})`,
          insetBottom: CLOCK,
          title: ({ of }: { of: IgnoredShown }) => `${named(of)}, ${span(of)}`,
        }),
        Plot.rect(visits, {
          ...band,
          fill: colour('caught'),
          fillOpacity: ({ of }: { of: VisitShown }) => (of.caught ? 0.25 : 0.07),
          stroke: colour('caught'),
          strokeDasharray: '3 2',
          strokeOpacity: ({ of }: { of: VisitShown }) => (of.caught ? 0 : 1),
          insetBottom: CLOCK,
          title: ({ of }: { of: VisitShown }) =>
            `${of.name ?? 'visit'}, ${span(of)}, ${of.caught ? 'caught' : 'missed'}`,
        }),
        ...areaMarks(clip, rows, inside),
        ...nameMarks(clip, visits, ignored, perPixel, inside),
        ...Object.entries(triggerShapes).map(([verdict, { symbol, role, filled }]) =>
          Plot.dot(
            marks.filter((mark) => (mark.verdict ?? 'unjudged') === verdict),
            {
              ...inRow,
              frameAnchor: 'bottom',
              dy: -CLOCK - MARKS / 2 + 1,
              symbol,
              r: 4,
              strokeWidth: 1.8,
              stroke: colour(role),
              fill: filled ? colour(role) : 'none',
              title: ({ times }: { times: number[] }) => times.map((t) => clock(t, 1)).join(', '),
            },
          ),
        ),
        ...clockMarks(clip, rows),
      ],
    },
    `<defs>${hatching(`${id}-ignored`, 45, 'ignored')}${hatching(`${id}-blank`, -45, 'ignored')}</defs>`,
  );
}

function span({ start, end }: { start: number; end: number }): string {
  return `${clock(start)}–${clock(end)}`;
}

/** Diagonal lines; which way they lean tells the kind. */
function hatching(id: string, degrees: number, role: Role): string {
  return (
    `<pattern id="${id}" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(${degrees})">` +
    `<path d="M0,0V6" stroke="${colour(role)}" stroke-width="1.6" opacity="0.55"/></pattern>`
  );
}
