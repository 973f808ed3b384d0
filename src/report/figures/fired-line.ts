import * as Plot from '@observablehq/plot';
import type { Moment } from '../../fit/score/agreement.js';
import { clock, plural } from '../../words/wording.js';
import { html, Markup } from '../markup.js';
import { colour, type Role } from '../palette.js';
import { draw } from './draw.js';
import type { StripFormat } from './strip.js';
import { rowsOf } from './strip-layout.js';
import { CLOCK, clockMarks } from './strip-text.js';

const FORMATS = { wide: { width: 720, usual: 600 }, narrow: { width: 344, usual: 150 } } as const;
const [LEFT, RIGHT] = [8, 8];
/** Height of the lane of fired times, and of that of predicted ones. */
const LANE = 17;

/** A mark's shape tells what it is; its colour only says it again. */
const shapes = {
  matched: {
    symbol: 'circle',
    role: 'caught',
    filled: true,
    lane: 0.5,
    path: 'M6 8a4 4 0 1 0 8 0a4 4 0 1 0-8 0',
  },
  missing: { symbol: 'times', role: 'nothing', filled: false, lane: 0, path: 'M6 4l8 8M14 4l-8 8' },
  extra: { symbol: 'triangle', role: 'ink', filled: false, lane: 1, path: 'M10 3.5L14.5 12H5.5Z' },
} as const satisfies Record<
  Moment['is'],
  { symbol: string; role: Role; filled: boolean; lane: number; path: string }
>;

const said: Record<Moment['is'], string> = {
  matched: 'the camera fired, and so does the description',
  missing: 'the camera fired, the description does not',
  extra: 'the description fires, the camera did not',
};

/**
 * When a camera fired against when a description does, over the time of a clip, in rows like lines of text: above what the camera
 * alone did, between what both did, below what the description alone does.
 * @param seconds of the clip
 */
export function firedLine(
  moments: readonly Moment[],
  seconds: number,
  id: string,
  format: StripFormat,
): string {
  const { width, usual } = FORMATS[format];
  const rows = rowsOf(seconds, usual, width - LEFT - RIGHT);
  const rowHeight = 3 * LANE + CLOCK;
  const placed = moments.map(({ time, is }) => {
    const row = Math.min(rows.starts.length - 1, Math.max(0, Math.floor(time / rows.seconds)));
    return { row, x: Math.min(rows.seconds, Math.max(0, time - rows.starts[row]!)), time, is };
  });
  const ends = rows.starts.map((start, row) => ({ row, x2: Math.min(rows.seconds, seconds - start) }));
  const count = (is: Moment['is']) => moments.filter((one) => one.is === is).length;
  return draw(
    {
      id,
      title: 'When the camera fired, and when the description does',
      description: `${plural(count('matched'), 'time')} both, ${count('missing')} the camera alone, ${count('extra')} the description alone.`,
    },
    {
      width,
      height: rows.starts.length * rowHeight + 4,
      marginLeft: LEFT,
      marginRight: RIGHT,
      marginTop: 2,
      marginBottom: 2,
      x: { domain: [0, rows.seconds], axis: null },
      y: { domain: [1, 0], insetTop: LANE / 2 + 2, insetBottom: CLOCK + LANE / 2 + 2, axis: null },
      fy: { domain: rows.starts.map((_, row) => row), axis: null, padding: 0.06 },
      marks: [
        Plot.rect(ends, {
          x1: 0,
          x2: 'x2',
          fy: 'row',
          fill: colour('card'),
          insetTop: -LANE / 2,
          insetBottom: CLOCK,
        }),
        ...Object.entries(shapes).map(([is, { symbol, role, filled, lane }]) =>
          Plot.dot(
            placed.filter((one) => one.is === is),
            {
              x: 'x',
              y: () => lane,
              fy: 'row',
              symbol,
              r: 4,
              strokeWidth: 1.8,
              stroke: colour(role),
              fill: filled ? colour(role) : 'none',
              title: ({ time }: Moment) => `${clock(time, 1)}: ${said[is as Moment['is']]}`,
            },
          ),
        ),
        ...clockMarks({ seconds }, rows),
      ],
    },
  );
}

/** What the marks mean, of those that occur. */
export function firedLegend(moments: readonly Moment[]): Markup {
  const occurs = new Set(moments.map(({ is }) => is));
  const items = Object.entries(shapes).filter(([is]) => occurs.has(is as Moment['is']));
  return html`<ul class="legend">${items.map(
    ([is, { role, filled, path }]) =>
      html`<li>${new Markup(
        `<svg width="20" height="16" viewBox="0 0 20 16" aria-hidden="true"><path d="${path}" stroke="${colour(role)}" stroke-width="1.8" fill="${filled ? colour(role) : 'none'}"/></svg>`,
      )}${said[is as Moment['is']]}</li>`,
  )}</ul>`;
}
