import * as Plot from '@observablehq/plot';
import type { SiteResult } from '../../jobs/tune.js';
import { figure } from '../../words/wording.js';
import { colour } from '../palette.js';
import { draw, FONT } from './draw.js';

const WIDTH = 360;
const HEIGHT = 290;
const TICKS = [0, 1, 3, 10, 30, 100, 300, 1000, 3000, 10_000, 30_000];

interface Point {
  recall: number;
  falsePerHour: number;
}

/** What each share of visits costs in false triggers: the front, with what is recommended and what is best on these clips. */
export function frontFigure(
  { front, recommended, best, allowance }: Pick<SiteResult, 'front' | 'recommended' | 'best' | 'allowance'>,
  id: string,
): string {
  const points = front.flatMap(({ recall, falsePerHour }) =>
    recall === null || falsePerHour === null ? [] : [{ recall, falsePerHour }],
  );
  const chosen = pointOf(recommended);
  const finest = pointOf(best);
  const same =
    chosen !== null &&
    finest !== null &&
    chosen.recall === finest.recall &&
    chosen.falsePerHour === finest.falsePerHour;
  const all = [...points, ...(chosen ? [chosen] : []), ...(finest ? [finest] : [])];
  const allowed = allowance ? [allowance.falsePerHour] : [];
  const most = 1.15 * all.reduce((a, p) => Math.max(a, p.falsePerHour), Math.max(1, ...allowed));
  const described = [
    chosen && `Recommended: ${inWords(chosen)}.`,
    finest && `Best on these clips: ${inWords(finest)}.`,
  ];
  return draw(
    {
      id,
      title: 'Visits caught against false triggers',
      description:
        described.filter(Boolean).join(' ') || 'Nothing can be told: no visits or no watched time.',
    },
    {
      width: WIDTH,
      height: HEIGHT,
      marginLeft: 42,
      marginRight: 14,
      marginTop: 26,
      marginBottom: 40,
      x: {
        type: 'symlog',
        domain: [0, most],
        ticks: TICKS.filter((tick) => tick <= most),
        tickFormat: (x: number) => (x >= 1000 ? `${x / 1000}k` : String(x)),
        label: 'false triggers an hour →',
        labelAnchor: 'center',
        labelArrow: 'none',
      },
      y: {
        domain: [0, 1],
        ticks: 5,
        tickFormat: (y: number) => `${Math.round(y * 100)} %`,
        label: '↑ visits caught',
        labelArrow: 'none',
        grid: true,
      },
      style: { fontSize: `${FONT}px` },
      marks: [
        Plot.ruleX(allowed, { stroke: colour('faint'), strokeDasharray: '4 3' }),
        Plot.text(allowed, {
          x: (x: number) => x,
          text: (x: number) => `allowed: ${figure(x)}`,
          frameAnchor: 'bottom',
          textAnchor: leans(allowed[0] ?? 0, most),
          dx: leans(allowed[0] ?? 0, most) === 'start' ? 4 : -4,
          dy: -6,
          fill: colour('faint'),
        }),
        Plot.line(
          [...points].sort((a, b) => a.falsePerHour - b.falsePerHour),
          { x: 'falsePerHour', y: 'recall', curve: 'step-after', stroke: colour('area'), strokeWidth: 1.5 },
        ),
        Plot.dot(points, { x: 'falsePerHour', y: 'recall', r: 2.5, fill: colour('area'), title: inWords }),
        ...(finest && !same ? marked(finest, 'best here', 'diamond', 'best', most, false) : []),
        ...(chosen
          ? marked(chosen, same ? 'recommended, best here' : 'recommended', 'star', 'recommended', most, true)
          : []),
      ],
    },
  );
}

function pointOf(choice: SiteResult['best']): Point | null {
  const { recall, falsePerHour } = choice.score;
  return recall && falsePerHour ? { recall: recall.value, falsePerHour: falsePerHour.value } : null;
}

/** A point that stands out by shape and name; the name lies below or above it, on the side where there is room. */
function marked(
  point: Point,
  name: string,
  symbol: 'star' | 'diamond',
  role: 'recommended' | 'best',
  most: number,
  below: boolean,
): Plot.Markish[] {
  const textAnchor = leans(point.falsePerHour, most);
  const under = point.recall > 0.9 || (below && point.recall > 0.12);
  return [
    Plot.dot([point], {
      x: 'falsePerHour',
      y: 'recall',
      symbol,
      r: symbol === 'star' ? 8 : 6,
      fill: symbol === 'star' ? colour(role) : colour('card'),
      stroke: symbol === 'star' ? colour('ink') : colour(role),
      strokeWidth: symbol === 'star' ? 1 : 2.5,
      title: inWords,
    }),
    Plot.text([point], {
      x: 'falsePerHour',
      y: 'recall',
      text: () => name,
      textAnchor,
      dx: textAnchor === 'start' ? 9 : -9,
      dy: under ? 14 : -12,
      fontWeight: 'bold',
      stroke: colour('card'),
      strokeWidth: 4,
      fill: colour('ink'),
    }),
  ];
}

/** To which side of a place text has more room. */
function leans(x: number, most: number): 'start' | 'end' {
  return Math.log1p(x) > 0.55 * Math.log1p(most) ? 'end' : 'start';
}

function inWords({ recall, falsePerHour }: Point): string {
  return `${Math.round(100 * recall)} % of visits caught, ${figure(falsePerHour)} false triggers an hour`;
}
