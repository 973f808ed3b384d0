import * as Plot from '@observablehq/plot';
import { type Between, figure, figureBetween, percentBetween } from '../../words/wording.js';
import { colour } from '../palette.js';
import { draw, FONT } from './draw.js';

const WIDTH = 344;
const ROW = 44;
/** How high in its row the interval lies, below its text; and half the height of its ends. */
const [MIDDLE, END] = [0.26, 0.14];
const TICKS = [0, 1, 3, 10, 30, 100, 300, 1000, 3000, 10_000, 30_000];

/** A share of visits, or a rate an hour with what is allowed of it. */
export type IntervalScale = { kind: 'share' } | { kind: 'rate'; allowed: number | null };

export interface IntervalRow {
  /** On the clips themselves, or what is foretold for footage not seen. */
  of: 'these clips' | 'unseen footage';
  /** Null where there is too little to tell. */
  between: Between | null;
}

/** How sure: each value as a point within its 90 % interval; measured as a full disc, foretold as an open diamond. */
export function intervals(
  rows: readonly IntervalRow[],
  scale: IntervalScale,
  title: string,
  id: string,
): string {
  const ends = rows.flatMap(({ between }) => (between ? [between.high] : []));
  const allowed = scale.kind === 'rate' ? scale.allowed : null;
  const most =
    scale.kind === 'share' ? 1 : 1.1 * ends.reduce((a, b) => Math.max(a, b), Math.max(1, allowed ?? 0));
  const written = ({ of, between }: IntervalRow) => {
    if (!between) return `${of}: too little to tell`;
    return `${of}: ${scale.kind === 'share' ? percentBetween(between) : figureBetween(between)}`;
  };
  const known = rows.flatMap(({ of, between }) => (between ? [{ of, ...between }] : []));
  const place = { fy: 'of', y: () => MIDDLE } as const;
  return draw(
    { id, title, description: `${rows.map(written).join('; ')}. Intervals of 90 %.` },
    {
      width: WIDTH,
      height: rows.length * ROW + (scale.kind === 'rate' ? 46 : 32),
      marginLeft: 14,
      marginRight: 20,
      marginTop: scale.kind === 'rate' ? 18 : 4,
      marginBottom: 28,
      x: {
        ...(scale.kind === 'share' ? {} : { type: 'symlog' as const }),
        domain: [0, most],
        ticks: scale.kind === 'share' ? [0, 0.25, 0.5, 0.75, 1] : TICKS.filter((tick) => tick <= most),
        tickFormat: (x: number) =>
          scale.kind === 'share' ? `${100 * x} %` : x >= 1000 ? `${x / 1000}k` : String(x),
        label: null,
        grid: true,
      },
      y: { domain: [0, 1], axis: null },
      fy: { domain: rows.map((row) => row.of), axis: null, padding: 0 },
      style: { fontSize: `${FONT}px` },
      marks: [
        ...(allowed === null
          ? []
          : [
              Plot.ruleX([allowed], { stroke: colour('faint'), strokeDasharray: '4 3' }),
              Plot.text(rows.slice(0, 1), {
                x: () => allowed,
                fy: 'of',
                text: () => `allowed: ${figure(allowed)}`,
                frameAnchor: 'top',
                dy: -9,
                fill: colour('faint'),
              }),
            ]),
        Plot.text(rows, {
          fy: 'of',
          text: written,
          frameAnchor: 'top-left',
          dx: 2,
          dy: 6,
          fontSize: FONT + 1,
          stroke: colour('card'),
          strokeWidth: 4,
          fill: colour('ink'),
        }),
        Plot.ruleY(known, { ...place, x1: 'low', x2: 'high', stroke: colour('ink'), strokeWidth: 2 }),
        Plot.ruleX(
          known.flatMap(({ of, low, high }) => [low, high].map((x) => ({ of, x }))),
          { x: 'x', fy: 'of', y1: MIDDLE - END, y2: MIDDLE + END, stroke: colour('ink'), strokeWidth: 2 },
        ),
        Plot.dot(
          known.filter((row) => row.of === 'these clips'),
          { ...place, x: 'value', r: 5, fill: colour('ink') },
        ),
        Plot.dot(
          known.filter((row) => row.of === 'unseen footage'),
          {
            ...place,
            x: 'value',
            r: 6,
            symbol: 'diamond',
            fill: colour('card'),
            stroke: colour('recommended'),
            strokeWidth: 2.5,
          },
        ),
      ],
    },
  );
}
