import * as Plot from '@observablehq/plot';
import { clock } from '../../words/wording.js';
import type { ClipShown, IgnoredShown, VisitShown } from '../data.js';
import { colour } from '../palette.js';
import { FONT } from './draw.js';
import { type Cut, lanesOf, type Rows } from './strip-layout.js';

/** Height of a lane of names in pixels, and how many there are. */
export const LANE = 13;
export const LANES = 2;
/** Height of the clock times under a row. */
export const CLOCK = 16;

/** Names over visits and ignored time, in two lanes, what was missed in italics; what has no room keeps its title only. */
export function nameMarks(
  clip: ClipShown,
  visits: readonly Cut<VisitShown>[],
  ignored: readonly Cut<IgnoredShown>[],
  perPixel: number,
  inside: number,
): Plot.Markish[] {
  if (clip.labels.kind === 'unlabelled') return [];
  const all = [
    ...visits.map((v) => ({ ...v, text: v.of.name ?? 'visit', upright: v.of.caught })),
    ...ignored.map((s) => ({ ...s, text: named(s.of), upright: true })),
  ].filter((label) => label.first);
  const labels = all
    .map(({ row, x1, text, upright }) => {
      const width = text.length * FONT * 0.58 + 6;
      return { row, text, upright, width, x: Math.max(0, Math.min(x1 / perPixel, inside - width)) };
    })
    .sort((a, b) => a.row - b.row || a.x - b.x);
  const placed = lanesOf(
    labels.map(({ row, x, width }) => ({ x: row * 2 * inside + x, width })),
    LANES,
  );
  const sorts = Array.from({ length: LANES }, (_, lane) =>
    [true, false].map((upright) => ({ lane, upright })),
  );
  return sorts.flat().map(({ lane, upright }) =>
    Plot.text(
      labels.filter((label, i) => placed[i] === lane && label.upright === upright),
      {
        x: ({ x }: { x: number }) => x * perPixel,
        fy: 'row',
        text: 'text',
        fontStyle: upright ? 'normal' : 'italic',
        frameAnchor: 'top',
        textAnchor: 'start',
        dx: 2,
        dy: lane * LANE + 8,
        stroke: colour('card'),
        strokeWidth: 3,
        fill: colour('ink'),
      },
    ),
  );
}

/** The clip's own time under each row. */
export function clockMarks(clip: Pick<ClipShown, 'seconds'>, rows: Rows): Plot.Markish[] {
  const ticks = rows.starts.flatMap((start, row) => {
    const length = Math.min(rows.seconds, clip.seconds - start);
    const first = Math.ceil(start / rows.tick - 1e-9);
    const count = Math.floor((start + length) / rows.tick + 1e-9) - first + 1;
    return Array.from({ length: Math.max(0, count) }, (_, i) => {
      const time = (first + i) * rows.tick;
      return { row, x: time - start, time };
    });
  });
  const axis = rows.starts.map((start, row) => ({ row, x2: Math.min(rows.seconds, clip.seconds - start) }));
  return [
    Plot.rect(axis, { x1: 0, x2: 'x2', fy: 'row', stroke: colour('rule'), fill: 'none', insetBottom: CLOCK }),
    ...(['start', 'middle', 'end'] as const).map((textAnchor) =>
      Plot.text(
        ticks.filter(({ x }) => anchorAt(x / rows.seconds) === textAnchor),
        {
          x: 'x',
          fy: 'row',
          text: ({ time }: { time: number }) => clock(time),
          frameAnchor: 'bottom',
          textAnchor,
          dy: -CLOCK / 2 + 1,
          fontSize: FONT - 1,
          fill: colour('faint'),
        },
      ),
    ),
  ];
}

/** Text at the ends of a row stays inside it. */
function anchorAt(place: number): 'start' | 'middle' | 'end' {
  if (place < 0.03) return 'start';
  return place > 0.97 ? 'end' : 'middle';
}

/** What a stretch that counts for nothing is called. */
export function named(stretch: IgnoredShown): string {
  if (stretch.kind === 'not reviewed') return 'not looked through';
  if (stretch.kind === 'other visitor')
    return stretch.why === 'human' ? 'a person' : (stretch.why ?? 'another visitor');
  return stretch.why ?? 'ignored';
}
